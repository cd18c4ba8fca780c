"""`fettlebook check` and `fettlebook new`, as a person runs them."""

import json

import pytest


def test_a_good_book_passes(demo, fettlebook):
    done = fettlebook("check", cwd=demo)
    assert (done.returncode, done.stdout, done.stderr) == (0, "2 procedures: no faults.\n", "")


def test_a_second_run_says_the_same(demo, spoil, fettlebook):
    spoil("group: leaks\nalso", "group: leeks\nalso")
    first, second = fettlebook("check", cwd=demo), fettlebook("check", cwd=demo)
    assert (first.returncode, first.stdout) == (second.returncode, second.stdout)
    spoil("group: leeks\nalso", "group: leaks\nalso")
    assert fettlebook("check", cwd=demo).returncode == 0


def test_a_picture_that_goes_is_missed(demo, spoil, fettlebook):
    picture = demo / "procedures/plug.png"
    picture.write_bytes(b"\x89PNG\r\n\x1a\n")
    spoil("        why: A tight", "        figure: {image: plug.png, alt: A plug}\n        why: A tight")
    assert fettlebook("check", cwd=demo).returncode == 0
    picture.unlink()
    assert 'picture "plug.png" is not there' in fettlebook("check", cwd=demo).stdout


def test_a_path_asks_for_its_own_faults_alone(demo, spoil, fettlebook):
    spoil("group: leaks\nalso", "group: leeks\nalso")
    assert fettlebook("check", "procedures/leaks", cwd=demo).returncode == 0
    assert fettlebook("check", "procedures/replace-a-plug-seal.yml", cwd=demo).returncode == 1
    assert fettlebook("check", str(demo), cwd="/").returncode == 1


@pytest.mark.parametrize("args, words", [
    (["nowhere.yml"], "fettlebook: there is no nowhere.yml\n"), (["a\0b"], None), (["/"], "fettlebook: there is no folder procedures/ in /"),
])  # fmt: skip
def test_no_book_is_wrong_use(demo, fettlebook, args, words):
    if words is None:
        return  # no process can be started with such an argument
    done = fettlebook("check", *args, cwd=demo)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith(words)


def test_json_and_annotations(demo, spoil, fettlebook):
    spoil("group: leaks\nalso", "group: leeks\nalso")
    (one,) = json.loads(fettlebook("check", "--json", cwd=demo).stdout)
    assert (one["file"], one["line"], one["column"], one["rule"]) == (
        "procedures/replace-a-plug-seal.yml",
        2,
        8,
        "choice",
    )
    done = fettlebook("check", "--github", cwd=demo)
    assert done.returncode == 1
    assert done.stdout.startswith("::error file=procedures/replace-a-plug-seal.yml,line=2,col=8,title=choice::")


def test_a_new_procedure_passes_the_check_at_once(demo, fettlebook):
    done = fettlebook("new", "Free a seized tailstock: cold", "--kind", "repair", "--by", "R. Okell", cwd=demo)
    assert (done.returncode, done.stdout.split(": fill")[0]) == (0, "procedures/free-a-seized-tailstock-cold.yml")
    done = fettlebook("check", cwd=demo)
    assert done.returncode == 0
    assert "3 procedures: no faults, 1 piece of advice." in done.stdout


def test_a_new_procedure_is_never_written_over(demo, fettlebook):
    assert fettlebook("new", "Any job", cwd=demo).returncode == 0
    before = (demo / "procedures/any-job.yml").read_bytes()
    done = fettlebook("new", "Any job", "--kind", "heat", cwd=demo)
    assert (done.returncode, done.stderr) == (
        2,
        "fettlebook: procedures/any-job.yml is there already; give the new one another title\n",
    )
    assert (demo / "procedures/any-job.yml").read_bytes() == before
