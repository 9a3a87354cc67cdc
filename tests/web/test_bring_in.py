import io
import zipfile
from pathlib import Path

from django.core.files.uploadedfile import SimpleUploadedFile
from tests import questions, stories
from tests.cast import Cast

from halewright.files import group_folder
from halewright.store import models

URL = "/bring-in/"


def _zipped(folder: Path, *, inside: str = "") -> SimpleUploadedFile:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as archive:
        for path in sorted(folder.rglob("*")):
            if path.is_file():
                archive.write(path, inside + str(path.relative_to(folder)))
    return SimpleUploadedFile("group.zip", held.getvalue())


def _folder(tmp_path: Path) -> Path:
    folder = tmp_path / "sent"
    group_folder.write(stories.four_chairs(), folder)
    return folder


def test_a_zip_of_a_folder_becomes_a_group(cast: Cast, tmp_path: Path) -> None:
    """A folder inside the zip does not matter, and band readings come along."""
    sent = _zipped(_folder(tmp_path), inside="four-chairs/")

    answer = cast.client(cast.cass).post(URL, {"files": [sent]}, follow=True)

    group = models.Group.objects.get(organisation=cast.cass.organisation)
    assert answer.redirect_chain == [(f"/group/{group.pk}/", 302)]
    assert group.participants.count() == 4
    assert models.BandPoint.objects.filter(band__group=group).count() == 2


def test_the_files_of_a_folder_become_a_group(cast: Cast, tmp_path: Path) -> None:
    """The files may be chosen one by one; those that are no table are a band's readings."""
    folder = _folder(tmp_path)
    sent = [
        SimpleUploadedFile(path.name, path.read_bytes())
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    ]

    cast.client(cast.cass).post(URL, {"files": sent})

    group = models.Group.objects.get(organisation=cast.cass.organisation)
    assert models.BandPoint.objects.filter(band__group=group).count() == 2


def test_every_problem_is_shown_in_a_table_and_nothing_is_saved(cast: Cast, tmp_path: Path) -> None:
    """Two broken files are told together, with place and remedy."""
    folder = _folder(tmp_path)
    (folder / "group.toml").write_text("name = ", encoding="utf-8")
    (folder / "people.csv").write_text("id,name\nx,\n", encoding="utf-8")

    answer = cast.client(cast.cass).post(URL, {"files": [_zipped(folder)]})

    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Nothing was saved" in page
    assert "group.toml" in page
    assert "people.csv" in page
    assert not models.Group.objects.filter(organisation=cast.cass.organisation).exists()


def test_a_zip_that_is_none_is_refused_in_words(cast: Cast) -> None:
    """Bytes that only claim to be a zip are told so."""
    answer = cast.client(cast.alma).post(URL, {"files": [SimpleUploadedFile("a.zip", b"no")]})

    assert answer.status_code == 422
    assert "cannot be opened" in answer.content.decode()


def test_a_zip_that_climbs_out_writes_nothing_outside(cast: Cast, tmp_path: Path) -> None:
    """A name with two dots in it cannot leave the folder it is laid out in."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as archive:
        archive.writestr("group.toml", "name = 'x'")
        archive.writestr("../../../climbed.csv", "a,b")
        archive.writestr(str(tmp_path / "absolute.csv"), "a,b")

    answer = cast.client(cast.alma).post(
        URL, {"files": [SimpleUploadedFile("a.zip", held.getvalue())]}
    )

    assert answer.status_code == 422
    assert not (tmp_path / "absolute.csv").exists()
    assert not list(tmp_path.rglob("climbed.csv"))


def test_bringing_it_in_twice_gives_one_group(cast: Cast, tmp_path: Path) -> None:
    """The second time brings the group up to date, and no fact is repeated."""
    folder = _folder(tmp_path)
    before = models.HealthFact.objects.count()

    for _ in range(2):
        cast.client(cast.alma).post(URL, {"files": [_zipped(folder)]})

    assert models.Group.objects.filter(organisation=cast.alma.organisation).count() == 1
    assert models.HealthFact.objects.count() == before


def test_it_takes_one_method(cast: Cast) -> None:
    """Any other way of asking is refused."""
    assert questions.refuses(cast, "GET", URL)


def test_signed_out_it_leads_to_the_door(cast: Cast) -> None:
    """Nobody sees it without signing in."""
    assert questions.sends_to_sign_in(cast, "POST", URL)


def test_an_assistant_is_turned_away(cast: Cast) -> None:
    """This is the leader's."""
    assert questions.is_the_leaders(cast, "POST", URL)
