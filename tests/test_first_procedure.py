"""docs/first-procedure.md done step by step: what it says to type gives the answers that it shows, and a sheet of paper."""

import re
import shutil
from io import BytesIO

import pypdf
import pytest

BLOCK = re.compile(r"```(yaml|sh|text)\n(.*?)```|<!-- mend: (\S+) -> (\S+) -->", re.S)
FILE = "procedures/renew-the-way-wipers.yml"


@pytest.fixture
def book(root, tmp_path):
    shutil.copytree(root / "procedures", tmp_path / "procedures")
    shutil.copy(root / "mkdocs.yml", tmp_path / "mkdocs.yml")
    return tmp_path


def test_the_lesson_works_as_it_is_written(root, book, fettlebook):
    lesson = (root / "docs" / "first-procedure.md").read_text(encoding="utf-8")
    answer, answers, sheets = "", 0, []
    for kind, content, wrong, right in BLOCK.findall(lesson):
        path = book / FILE
        written = path.read_text(encoding="utf-8") if path.exists() else ""
        if wrong:
            assert written.count(wrong) == 1
            path.write_text(written.replace(wrong, right), encoding="utf-8")
        elif kind == "yaml":
            path.write_text(written + content, encoding="utf-8")
        elif kind == "text":
            answers += 1
            for line in content.strip().split("\n"):
                assert line in answer, f"the lesson shows: {line}\nthe book says: {answer}"
            faults = [line for line in answer.split("\n") if line.startswith(FILE) and "advice:" not in line]
            assert len(faults) == (0 if "no faults" in content else len(content.strip().split("\n"))), answer
        else:
            for command in content.strip().split("\n"):
                if not command.startswith(".venv/bin/fettlebook "):
                    assert (
                        command.startswith("make ")
                        and command.removeprefix("make ") + ":" in (root / "Makefile").read_text()
                    )
                    continue
                done = fettlebook(*command.split()[1:], cwd=book)
                answer = done.stdout + done.stderr
                assert "Traceback" not in answer
                sheets += [line for line in answer.split("\n") if line.endswith(".pdf")]
    assert answers == 3 and len(sheets) == 2
    for sheet in sheets:
        words = " ".join(page.extract_text() for page in pypdf.PdfReader(BytesIO((book / sheet).read_bytes())).pages)
        assert "Renew the way wipers" in words
        assert "3.3 mm" in words, "the drill for M4 x 0.7 (ISO 2306: 3.3 mm)"
