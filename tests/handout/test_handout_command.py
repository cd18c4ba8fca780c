"""The command that prints, and where the site keeps the sheets."""

from fettlebook.cli import main
from fettlebook.handout.shelf import procedure_links, sheet_uri, wall_links


def test_it_writes_the_files_and_says_where(tmp_path, root, capsys):
    assert main(["handout", "find-a-leak", "chart-oil-names", "--for", "trainee", "--paper", "letter",
                 "-o", str(tmp_path / "new"), "--book", str(root)]) == 0  # fmt: skip
    names = {path.name: path.read_bytes()[:5] for path in (tmp_path / "new").iterdir()}
    assert names == {"find-a-leak-trainee.pdf": b"%PDF-", "chart-oil-names.pdf": b"%PDF-"}
    assert str(tmp_path / "new" / "chart-oil-names.pdf") in capsys.readouterr().out


def test_a_wrong_name_prints_nothing(tmp_path, root, capsys):
    assert main(["handout", "find-a-leak", "nothing-so-called", "-o", str(tmp_path / "new"), "--book", str(root)]) == 2
    assert 'nothing to print is called "nothing-so-called"' in capsys.readouterr().err
    assert not (tmp_path / "new").exists()


def test_a_folder_that_cannot_be_made_is_said_in_words(tmp_path, root, capsys):
    (tmp_path / "file").write_text("here")
    assert main(["handout", "find-a-leak", "-o", str(tmp_path / "file"), "--book", str(root)]) == 2
    assert "File exists" in capsys.readouterr().err


def test_every_page_links_sheets_that_are_made(book):
    assert (
        procedure_links(book)["find-a-leak"][0][1]
        == sheet_uri("find-a-leak", "bench")
        == "sheets/find-a-leak-bench.pdf"
    )
    assert ("The whole book (PDF)", "sheets/book.pdf") in wall_links(book)
