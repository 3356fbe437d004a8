"""What a landed migration is protected from."""

from pathlib import Path

import pytest

from tests.upgrades.landed import LIST, ROOT, complaints, main, read


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """A small project whose two migrations have landed."""
    folder = tmp_path / "socks" / "migrations"
    folder.mkdir(parents=True)
    for name in ("__init__", "0001_initial", "0002_heel"):
        (folder / f"{name}.py").write_text(f"# {name}\n")
    assert main(["--add"], tmp_path, tmp_path / "landed.txt") == 0
    return tmp_path


def check(root: Path) -> int:
    return main([], root, root / "landed.txt")


def test_those_that_stay_as_they_are_pass(root: Path) -> None:
    assert check(root) == 0
    assert sorted(read(root / "landed.txt")) == [
        "socks/migrations/0001_initial.py",
        "socks/migrations/0002_heel.py",
    ]


def test_an_edited_one_fails(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (root / "socks/migrations/0002_heel.py").write_text("# 0002_toe\n")
    assert check(root) == 1
    assert capsys.readouterr().err == (
        "socks/migrations/0002_heel.py has landed and was changed: databases that know it would "
        "never notice. Take the change back and write a new migration.\n"
    )


def test_one_that_is_gone_fails(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (root / "socks/migrations/0002_heel.py").unlink()
    assert check(root) == 1
    assert "0002_heel.py has landed and is gone" in capsys.readouterr().err


def test_a_renamed_one_fails(root: Path) -> None:
    old = root / "socks/migrations/0002_heel.py"
    old.rename(old.with_name("0002_toe.py"))
    assert check(root) == 1


def test_adding_new_ones_does_not_accept_an_edited_one(root: Path) -> None:
    (root / "socks/migrations/0002_heel.py").write_text("# 0002_toe\n")
    (root / "socks/migrations/0003_cuff.py").write_text("# 0003_cuff\n")
    assert main(["--add"], root, root / "landed.txt") == 1
    assert check(root) == 1


def test_one_that_was_not_added_fails(root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (root / "socks/migrations/0003_cuff.py").write_text("# 0003_cuff\n")
    assert check(root) == 1
    assert "./dev landed adds it" in capsys.readouterr().err
    assert main(["--add"], root, root / "landed.txt") == 0
    assert check(root) == 0


def test_the_migrations_of_this_site_that_have_landed_are_as_they_were() -> None:
    assert len(read(LIST)) >= 6
    assert list(complaints(ROOT, LIST)) == []
