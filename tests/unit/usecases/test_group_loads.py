import json
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

from halewright.cli.main import cli
from halewright.core.mechanics.loads import Load
from halewright.core.people.group import LocalRule
from halewright.files import group_folder
from halewright.usecases import loads

HALL = Path(loads.__file__).parents[1] / "data" / "demo" / "marlow-street-hall"
GROUP = group_folder.read(HALL)
KEYS = {
    "person", "movement", "option", "band", "strands", "grip_length_m", "tension_start_n",
    "tension_peak_n", "tension_interval_n", "stretch_start_ratio", "stretch_end_ratio",
    "peak_phase", "joint_moments_nm", "work_j", "codes",
}  # fmt: skip


def test_every_person_option_and_measured_strip_has_a_row() -> None:
    """Four measured strips and one not, three ways with a band: fifteen rows for one person."""
    rows = loads.for_group(group=GROUP, movement="seated-row", person=GROUP.people[0].id)

    assert len(rows) == 3 * 5
    assert {row.band for row in rows if "not_measured" in row.codes} == {"Flint"}
    told = [row.load for row in rows if isinstance(row.load, Load)]
    assert len(told) == 12
    assert all(load.tension_peak_n is not None and load.tension_peak_n > 0.0 for load in told)


def test_what_is_not_known_is_said_and_not_made_up() -> None:
    """Without a stature there is no number; without a mass there is one, with its assumption."""
    person = replace(GROUP.people[0], stature_m=None)
    weightless = replace(GROUP.people[1], mass_kg=None)
    group = replace(GROUP, people=(person, weightless))

    rows = loads.for_group(group=group, movement="seated-row")

    assert all(row.load is None for row in rows if row.person == person.id)
    assert all("stature_not_known" in row.codes for row in rows if row.person == person.id)
    others = [row for row in rows if row.person == weightless.id and isinstance(row.load, Load)]
    assert others
    assert all("mass_assumed" in row.codes for row in others)


def test_a_local_rule_sets_the_stretch_limit() -> None:
    """With a signed limit of 1.5, no strip is gripped so that it stretches farther."""
    rule = LocalRule(
        rule=loads.STRETCH_LIMIT, who="Priya Nair", why="Our bands are old.", source="Our kit",
        at_most=1.5,
    )  # fmt: skip
    group = replace(GROUP, local_rules=(rule,))

    rows = loads.for_group(group=group, movement="chest-push", person=GROUP.people[0].id)

    told = [row.load for row in rows if isinstance(row.load, Load)]
    assert told
    assert all(load.stretch_most_ratio <= 1.5 + 1e-6 for load in told)


@pytest.mark.parametrize(("told", "held"), [(2.5, 2.5), (4.0, 3.0), (0.5, 3.0), (None, 3.0)])
def test_a_local_rule_only_lowers_the_limit(told: float | None, held: float) -> None:
    """The lower published limit is 3: a rule of 4, or one that makes no sense, changes nothing."""
    rule = LocalRule(
        rule=loads.STRETCH_LIMIT, who="Priya Nair", why="As told.", source="Our kit", at_most=told
    )

    assert loads.stretch_limit_ratio(replace(GROUP, local_rules=(rule,))) == held


def test_unknown_movements_and_people_are_named() -> None:
    """Asking for what is not there says so."""
    with pytest.raises(loads.UnknownMovement, match="moon-walk"):
        loads.for_group(group=GROUP, movement="moon-walk")
    with pytest.raises(loads.NoSuchPerson, match="nobody"):
        loads.for_group(group=GROUP, movement="seated-row", person="nobody")


def test_the_command_prints_the_documented_json() -> None:
    """`loads --json` gives exactly the documented keys, unrounded, for a wanted tension."""
    words = ["loads", str(HALL), "--movement", "turn-out", "--tension", "11.25", "--json"]
    done = CliRunner().invoke(cli, words, catch_exceptions=False)

    rows = json.loads(done.stdout)
    assert done.exit_code == 0
    assert all(set(row) == KEYS for row in rows)
    told = [row for row in rows if row["tension_peak_n"] is not None]
    assert all(row["tension_peak_n"] == pytest.approx(11.25, abs=1e-6) for row in told)
    low, high = told[0]["tension_interval_n"]
    assert low < 11.25 < high
    assert {"peak", "phase"} <= set(told[0]["joint_moments_nm"]["shoulder_rotation_right"])


def test_band_fit_prints_the_documented_json(tmp_path: Path) -> None:
    """A file of readings in kilograms gives the law, its reach and its doubts."""
    points = tmp_path / "points.csv"
    points.write_text(
        "slack_length_m,stretched_length_m,reading_kg\n"
        + "".join(
            f"1,{ratio},{kilos}\n"
            for ratio, kilos in (
                (1.2, 1.23), (1.4, 2.01), (1.6, 2.67), (1.8, 8.24), (2, 3.64), (2.4, 4.5),
            )
        ),
        "utf-8",
    )  # fmt: skip
    done = CliRunner().invoke(cli, ["band", "fit", str(points), "--json"], catch_exceptions=False)

    found = json.loads(done.stdout)
    assert {"a_n", "b_n", "c_n", "rms_n", "range_ratio", "force_at_double_n", "interval_n",
            "flags"} <= set(found)  # fmt: skip
    assert found["range_ratio"] == pytest.approx(2.4)
    # 3.64 kg at twice the length is 35.7 N; the 8.24 kg is a slip and hardly moves the curve.
    assert found["force_at_double_n"] == pytest.approx(35.7, abs=1.0)
    assert "typing_error" in found["flags"]


def test_too_few_readings_end_with_a_sentence(tmp_path: Path) -> None:
    """Two readings make no curve: the command says how many are needed, and ends with 1."""
    points = tmp_path / "points.csv"
    points.write_text("slack_length_m,stretched_length_m,reading_n\n1,1.5,9\n1,2,14\n", "utf-8")

    told = CliRunner().invoke(cli, ["band", "fit", str(points)], catch_exceptions=False)
    as_json = CliRunner().invoke(cli, ["band", "fit", str(points), "--json"])

    assert told.exit_code == as_json.exit_code == 1
    assert "5 or more lengths" in " ".join(told.stderr.split())
    found = json.loads(as_json.stdout)
    assert found["flags"] == ["too_few_points"]
    assert found["a_n"] is None


def test_a_table_for_people_rounds_and_warns() -> None:
    """The table shows steps of 5 N with an interval, and the cautions for bands below it."""
    words = ["loads", str(HALL), "--movement", "seated-row", "--person", GROUP.people[0].id]
    done = CliRunner().invoke(cli, [*words, "--tension", "15"], catch_exceptions=False)

    assert "15 N" in done.output
    for word in ("nicks", "faces", "shoes", "latex", "net joint"):
        assert word in done.output.lower().replace("\n", " ")
