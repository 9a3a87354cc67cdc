"""The shape of what is sent to us: text in, typed values or plain sentences out."""

from collections.abc import Mapping, Set
from dataclasses import dataclass, field
from datetime import date


@dataclass(frozen=True, slots=True, kw_only=True)
class DecisionForm:
    """A decision as it was typed; `wrong` says by field what to mend, empty when all is well."""

    flag: str
    answer: str
    by: str
    on: date | None
    typed_on: str
    note: str
    wrong: Mapping[str, str] = field(default_factory=dict)

    @property
    def go_ahead(self) -> bool:
        """Whether the answer is to go ahead."""
        return self.answer == "go"


def decision(sent: Mapping[str, str], *, flags: Set[str], today: date) -> DecisionForm:
    """Return a decision as it was typed, with everything that must be mended."""
    wrong: dict[str, str] = {}
    typed_on = sent.get("on", "").strip()
    on = _day(typed_on)
    if sent.get("flag", "") not in flags:
        wrong["flag"] = "Choose what was asked."
    if sent.get("answer", "") not in {"go", "wait"}:
        wrong["answer"] = "Choose “go ahead” or “wait”."
    if not sent.get("by", "").strip():
        wrong["by"] = "Give the name of who decided."
    if on is None:
        wrong["on"] = "Give the day of the decision, for example 2026-11-24."
    elif on > today:
        wrong["on"] = "The day of the decision cannot be in the future."
    return DecisionForm(
        flag=sent.get("flag", ""),
        answer=sent.get("answer", ""),
        by=sent.get("by", "").strip()[:150],
        on=on,
        typed_on=typed_on,
        note=sent.get("note", "").strip(),
        wrong=wrong,
    )


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None
