"""The result of a rewriting as a part of the page: summary, questions, changes, needles and proofs."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from html import escape

from rewriter.answers import WrongAnswer
from rewriter.formats import open_draft
from rewriter.formats.carrier import DraftFile
from rewriter.onesize import in_one_size
from rewriter.pipeline import Rework
from rewriter.redline import changes_of
from rewriter.render import COURTESY, MARKERS, SWATCH
from rewriter.report import PassageReport, Report
from rewriter.shapingmodel import Shaping
from rewriter.source import UnreadableDraft
from rewriter.spans import SourceText
from rewriter.spoken import spoken
from rewriter.web.bodies import File
from rewriter.web.charting import chart_picture, chart_section
from rewriter.web.choices import Choices
from rewriter.web.downloads import offers_of, offers_of_size
from rewriter.web.needle import drawing, needle_of
from rewriter.web.problems import Problem, Refused
from rewriter.web.proofwords import longer, proof_sentences
from rewriter.web.questions import can_be_answered, questions_of
from rewriter.web.words import capital, counted, page_words
from rewriter.webpage import apostrophes


@dataclass(frozen=True)
class Shown:
    """A rewriting as it is to be shown."""

    draft: DraftFile
    report: Report
    choices: Choices
    apart: frozenset[str] = frozenset()
    """Ids of the passages that shape both sides of a neck at once, each on a ball of its own."""

    @property
    def source(self) -> SourceText:
        """The text of the draft."""
        return self.draft.source

    @property
    def size(self) -> int | None:
        """The size shown, counted from 0; None for all of several."""
        sizes = self.report.sizes
        if len(sizes) == 1:
            return 0
        return sizes.index(self.choices.size) if self.choices.size in sizes else None

    def in_size(self) -> Callable[[str], str]:
        """Return what becomes of a text in the size shown."""
        size, sizes = self.size, len(self.report.sizes)
        return str if size is None else lambda text: in_one_size(text, size, sizes)

    @property
    def done(self) -> list[PassageReport]:
        """The passages that were rewritten."""
        return [p for p in self.report.passages if p.status == "rewritten"]


def result_of(file: File, choices: Choices) -> str:
    """Rewrite a draft as chosen and return the result as HTML; Refused where it cannot be read.

    The picture of the chart is left out: `picture_of` draws it.
    """
    shown, work, amiss = _shown(file, choices)
    report = shown.report
    if not report.passages and not report.edits:
        return _summary(shown)
    given, pasted = choices.work.given, choices.pasted
    chart = chart_section(work, shown.size or 0, shown.size is not None) if work else ""
    return "\n".join(
        (
            _summary(shown),
            questions_of(report, shown.source, given, pasted, amiss),
            _toolbar(shown),
            _text(shown, bool(chart)),
            _needles(shown),
            chart,
            _left(shown),
            _closing(shown),
        )
    )


def picture_of(file: File, choices: Choices) -> str:
    """Return the chart of the size shown as SVG, "" where there is none; Refused as `result_of` does.

    The process that gave the result still has its rewriting, so that it draws at once.
    """
    shown, work, _ = _shown(file, choices)
    return chart_picture(work, shown.size or 0) if work else ""


def _shown(file: File, choices: Choices) -> tuple[Shown, Rework | None, str]:
    """Return a draft rewritten as chosen, what that was made from, and what is amiss with an answer."""
    try:
        draft = open_draft(file.data, file.name)
    except UnreadableDraft as error:
        raise Refused("unreadable", str(error)) from None
    amiss = ""
    try:
        report, work = choices.work.done(draft.source)
    except UnreadableDraft as error:
        raise Refused("unreadable", str(error)) from None
    except WrongAnswer as error:
        amiss = str(error)
        report, work = choices.work.without_free().done(draft.source)
    shaped = {r.finding.id: r.shaping for r in work.revisions} if work else {}
    apart = frozenset(i for i, s in shaped.items() if isinstance(s, Shaping) and s.on_two_balls)
    return Shown(draft, report, choices, apart), work, amiss


def refusal(problem: Problem) -> str:
    """Return why there is no result, as HTML."""
    return (
        '<div class="problem"><h2 id="summary" tabindex="-1">'
        f"{escape(problem.title)}</h2><p>{escape(capital(problem.detail))}</p></div>"
    )


def _summary(shown: Shown) -> str:
    report = shown.report
    done = len(shown.done)
    questions = [q for q in report.questions if not q.optional]
    open_ones = sum(map(can_be_answered, questions))
    wrong = len(questions) - open_ones
    left = sum(p.status == "left" for p in report.passages)
    if done:
        shaping = "shoulder shaping" if all(p.kind == "shoulder" for p in shown.done) else "shaping"
        passages = counted(done, shaping, f"{shaping}s")
        sizes = f" in all {len(report.sizes)} sizes" if len(report.sizes) > 1 else ""
        told = f'{passages} rewritten, and <a href="#needles-title">proven</a>{sizes}.'
        told = f"{told} {escape(longer(shown.done))}".rstrip()
    elif questions:
        told = "Nothing is rewritten yet."
    elif left:
        told = "Nothing is rewritten."
    else:
        back = report.options.to == "steps"
        told = f"No {'shoulders in short rows' if back else 'stepped shoulders'} found."
    more = []
    if open_ones:
        more.append(f"{counted(open_ones, 'question waits', 'questions wait')} for an answer")
    if wrong:
        more.append(f"{counted(wrong, 'place has', 'places have')} to be put right in the pattern")
    if left:
        kept = f"{left} left as {'it is' if left == 1 else 'they are'}"
        more.append(f'<a href="#left-title">{kept}</a>')
    rest = ", ".join(more)
    notice = (
        f'<p class="notice">{escape(capital(shown.draft.notice))}</p>' if shown.draft.notice else ""
    )
    found = "" if done or report.questions or left else _why_nothing(report)
    # what was chosen and could not be had stands above, not only in a note beside the rows
    found += "".join(
        f'<p class="notice">{escape(capital(spoken(d.message)))}</p>'
        for d in report.diagnostics
        if done and d.code == "bound-off-instead"
    )
    return (
        f'<header class="summary"><h2 id="summary" tabindex="-1">{told}'
        f"{f' <span>{rest}.</span>' if rest else ''}</h2>{notice}{found}</header>"
    )


def _why_nothing(report: Report) -> str:
    # that nothing was found stands above
    reasons = dict.fromkeys(
        capital(spoken(d.message))
        for d in report.diagnostics
        if d.severity != "error" and d.code != "nothing-found"
    )
    said = "".join(f"<p>{escape(r)}</p>" for r in list(reasons)[:3])
    hint = (
        ""
        if report.options.to == "steps" or reasons
        else f"<p>{escape(page_words()['nothing'])}</p>"
    )
    return said + hint


# --- the text ---------------------------------------------------------------------------------------

_VIEWS = (
    ("changes", "Changes"),
    ("whole", "Whole pattern"),
    ("new", "New pattern"),
)


def _toolbar(shown: Shown) -> str:
    report = shown.report
    view = shown.choices.view
    views = "".join(
        f'<label><input type="radio" form="draft" name="view" id="view-{key}" value="{key}"'
        f"{' checked' if key == view else ''}><span>{words}</span></label>"
        for key, words in _VIEWS
    )
    sizes = ""
    if len(report.sizes) > 1:
        picked = shown.size
        options = [("", "All"), *((s, s) for s in report.sizes)]
        radios = "".join(
            f'<label><input type="radio" form="draft" name="size" id="size-{n}" value="{escape(s)}"'
            f"{' checked' if n == (0 if picked is None else picked + 1) else ''}>"
            f"<span>{escape(words)}</span></label>"
            for n, (s, words) in enumerate(options)
        )
        sizes = f'<fieldset class="pick sizes"><legend>Size</legend>{radios}</fieldset>'
    # where nothing is changed, the whole pattern is all there is to show
    shows = f'<fieldset class="pick views"><legend>Show</legend>{views}</fieldset>'
    picks = sizes + (shows if report.edits else "")
    return f'<div class="toolbar">{picks}</div>' if picks else ""


def _text(shown: Shown, drawn: bool) -> str:
    in_size = shown.in_size()
    # asked among the questions, in words that do not speak of a command
    told = tuple(
        d.model_copy(update={"message": spoken(d.message)})
        for d in shown.report.diagnostics
        if d.code not in ("side-not-told", "changes-pending")
    )
    report = shown.report.model_copy(update={"diagnostics": told})
    changes = changes_of(report, shown.source, in_size)
    key = (
        '<p class="key"><del>Struck out</del> is your pattern’s, <ins>underlined</ins> is new.</p>'
        if shown.report.edits
        else ""
    )
    return (
        f'<section class="text" aria-label="The pattern">{key}{_take(shown, drawn)}'
        f'<div class="changes">{changes}</div></section>'
    )


def _take(shown: Shown, drawn: bool) -> str:
    """Return the buttons by which the new words are taken along; `drawn` says whether a chart is."""
    if not shown.report.edits:
        return ""
    size, several = shown.size, len(shown.report.sizes) > 1
    label = shown.report.sizes[size] if several and size is not None else ""
    copied = escape(shown.in_size()(shown.report.output))
    # what can be drawn has rows that are counted, and so a worksheet
    of_size = offers_of_size(label, drawn) if size is not None else []
    files = [(o.key, o.label) for o in offers_of(shown.draft)]
    if label:
        groups = [(f"Download size {label}", of_size), ("All sizes", files)]
    else:
        groups = [("Download", [*files, *of_size])]
    hint = (
        '<span class="hint">Pick your size above: there is a worksheet of it, row by row.</span>'
        if drawn and size is None
        else ""
    )
    return (
        '<div class="take"><button type="button" class="strong" data-copy>'
        f"{escape(f'Copy size {label}' if label else 'Copy')}</button>"
        f"{''.join(_group(head, offers) for head, offers in groups)}{hint}"
        f'<textarea id="copy-text" hidden readonly aria-label="New pattern">\n{copied}</textarea></div>'
    )


def _group(head: str, offers: Sequence[tuple[str, str]]) -> str:
    buttons = "".join(
        f'<button type="button" data-download="{key}">{escape(label)}</button>'
        for key, label in offers
    )
    return f'<span class="group"><span class="label">{escape(head)}</span>{buttons}</span>'


# --- needles and proofs -----------------------------------------------------------------------------


def _needles(shown: Shown) -> str:
    if not shown.done:
        return ""
    parts = "".join(_passage(shown, p) for p in shown.done)
    proof = page_words()["proof"]
    lead = proof["lead" if len(shown.report.sizes) > 1 else "lead_one"]
    key = (
        f"{escape(lead)} The figures are stitches, in working order of the first short row; below the "
        "needle, counted from the outer edge: "
        '<b class="turn-key" aria-hidden="true">▼</b> where a row turns, '
        '<b class="boundary-key" aria-hidden="true">‖</b> where the neck begins.'
    )
    return (
        '<section class="needles" aria-labelledby="needles-title"><h2 id="needles-title">'
        f'On the needle, and the proof</h2><p class="help">{key}</p>{parts}</section>'
    )


def _name(passage: PassageReport) -> str:
    piece = "" if passage.piece in ("unknown", "other") else f"{passage.piece}, "
    text = f"{piece}{passage.kind}"
    return text[:1].upper() + text[1:]


def _passage(shown: Shown, passage: PassageReport) -> str:
    sizes = shown.report.sizes
    picked = range(len(sizes)) if shown.size is None else (shown.size,)
    needles = [needle_of(passage, i) for i in picked]
    widest = max((n.widest for n in needles if n), default=0)
    rows = "".join(
        f"<li>{f'<b>{escape(sizes[i])}</b>' if len(picked) > 1 else ''}"
        f"<div>{drawing(passage, i, widest, passage.id in shown.apart)}</div></li>"
        for i in picked
    )
    place = escape(shown.source.where(passage.span[0]))
    proof = " ".join(proof_sentences(passage, sizes))
    return (
        f'<article><h3>{escape(_name(passage))} <span class="place">{place}</span></h3>'
        f'<ul class="sizes-list{"" if len(picked) > 1 else " single"}" role="list">{rows}</ul>'
        f'<p class="proof">{escape(proof)}</p></article>'
    )


def _left(shown: Shown) -> str:
    left = [p for p in shown.report.passages if p.status == "left"]
    if not left:
        return ""
    items = "".join(
        f'<li><b>{escape(_name(p))}</b> <span class="place">{escape(shown.source.where(p.span[0]))}</span>'
        f"<p>{escape(capital(spoken(p.reason or '')))}</p></li>"
        for p in left
    )
    return (
        '<section class="left" aria-labelledby="left-title"><h2 id="left-title">Left as '
        f'{"it is" if len(left) == 1 else "they are"}</h2><ul role="list">{items}</ul></section>'
    )


def _closing(shown: Shown) -> str:
    if not shown.done:
        return ""
    told = [MARKERS, SWATCH, COURTESY] if shown.report.options.to == "short-rows" else [COURTESY]
    return f'<footer class="closing"><p>{escape(apostrophes(" ".join(told)))}</p></footer>'
