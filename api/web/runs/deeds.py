"""What the buttons on a run's page do: keep it otherwise, agree its shade, claim, let go."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from django.http import HttpRequest
from django.urls import reverse

from api.question import Question, moment_now
from api.tongue.customs import custom_of
from api.web.ask.asked import run_asked, weight_of
from api.web.forms import enter
from api.web.runs.address import run_address
from sourcing.claims import open_run
from sourcing.errors import RunHasBegun
from sourcing.notebook.one_row import Wanted, put_row, row_of
from sourcing.notebook.quantities import write_weight
from sourcing.notebook.row_key import key_text
from sourcing.notebook.yard_pages import BY_NAME

Deed = Callable[[HttpRequest, Question, str], str]


def keep_so(request: HttpRequest, question: Question, code: str) -> str:
    """Another weight or day, as it was looked at."""
    asked, studio = run_asked(request.POST), question.studio
    if open_run(studio, code).begun:
        raise RunHasBegun(code)
    said: dict[str, str] = {}
    if asked.weight:
        mg, _ = weight_of(asked.weight, asked.unit, custom=custom_of(studio))
        said["weight"] = write_weight(mg)
    if asked.by == "any":
        said["due"] = ""
    elif asked.day:
        said["due"] = f"{asked.day} 18:00"
    page, key = BY_NAME["runs"], key_text([code])
    at = moment_now()
    cells = {**row_of(studio, page, key, at=at).cells, **said}
    put_row(studio, page, key, Wanted(cells), at=at, look=_whatever)
    return run_address(code, question.carried)


def agree(request: HttpRequest, question: Question, code: str) -> str:
    """The shade card agreed, or not after all."""
    passed = "yes" if request.POST.get("agreed") == "yes" else "no"
    cells: Mapping[str, str] = {"run": code, "gate": "shade card", "passed": passed}
    key = key_text([code, "shade card"])
    put_row(question.studio, BY_NAME["gates"], key, Wanted(cells), at=moment_now(),
            look=_whatever)  # fmt: skip
    return run_address(code, question.carried)


def claim(request: HttpRequest, question: Question, code: str) -> str:
    """An amount of a lot kept for the run."""
    said = {name: request.POST.get(name, "") for name in ("lot", "amount")}
    enter(request, "claim", {"run": code, **said})
    return run_address(code, question.carried)


def release(request: HttpRequest, question: Question, code: str) -> str:
    """What of a lot was kept for the run, given back."""
    enter(request, "release", {"run": code, "lots": [request.POST.get("lot", "")]})
    return run_address(code, question.carried)


def let_go(request: HttpRequest, question: Question, code: str) -> str:
    """The run is wanted no more."""
    enter(request, "let-go-run", {"run": code})
    return reverse("week") + question.carried


DEEDS: Mapping[str, Deed] = {
    "keep": keep_so,
    "agree": agree,
    "claim": claim,
    "release": release,
    "let go": let_go,
}


def _whatever(mark: str | None) -> None:
    """Whatever stands there: the page has shown it a moment ago."""
