import stat
from pathlib import Path

from halewright.web import secret


def test_the_key_is_made_once_and_only_its_owner_may_read_it(tmp_path: Path) -> None:
    """The same key comes back, from a file that others cannot read."""
    path = tmp_path / "home" / "secret-key"

    first = secret.kept(path)

    assert secret.kept(path) == first
    assert len(first) >= 64
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_two_homes_have_two_keys(tmp_path: Path) -> None:
    """A key is made by chance, not shipped."""
    assert secret.kept(tmp_path / "a") != secret.kept(tmp_path / "b")
