"""Which parts of the site on this machine do not run, as its supervisor has noted."""

from pathlib import Path

from django.conf import settings
from django.utils.text import slugify


def note(part: str, trouble: str) -> None:
    """``trouble`` is a sentence, empty when there is none (any more)."""
    file = _folder() / slugify(part)
    if not trouble:
        file.unlink(missing_ok=True)
        return
    file.parent.mkdir(parents=True, exist_ok=True)
    fresh = file.with_suffix(".new")
    fresh.write_text(trouble, encoding="utf-8")
    fresh.rename(file)


def noted() -> list[str]:
    """The sentences, each about one part."""
    files = [file for file in _folder().glob("*") if not file.suffix]
    return [file.read_text(encoding="utf-8") for file in sorted(files)]


def _folder() -> Path:
    folder: Path = settings.DATA_DIR / "troubles"
    return folder
