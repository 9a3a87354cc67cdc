"""The files that hold a band's readings."""

from halewright.files import band_points


def test_a_label_never_hides_its_readings() -> None:
    """A file that begins with a tilde is passed over as an office's lock, so none is so named."""
    assert band_points.stem_of("~Heath") == "band-~Heath"
    assert band_points.stem_of("Heath~") == "Heath~"
