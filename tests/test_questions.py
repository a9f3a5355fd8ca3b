"""Questions written to a file, and answers taken from it for this draft and for its revisions."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from rewriter import rewrite
from rewriter.asks import ASKS
from rewriter.cli import main
from rewriter.options import Answer, Options
from rewriter.report import Report

HEAD = "BACK\nSizes 8(10:12)\nWork until armholes measure 20 cm, ending with a WS row.\n"
FRONT = (
    "LEFT FRONT\nSizes 8(10:12)\nWork until armhole measures 20 cm, ending with a WS row.\n"
    "Shape shoulder\n"
)
LAST = "Cast off 8(8:9) sts at beg of next and foll alt row, work 1 row, then cast off rem sts.\n"
UNNAMED = "Sizes 8(10:12)\nCast off 8(9:9) sts at beg of next 4 rows.\n"


def answered(text: str, choice: str, **changes: str) -> Report:
    """Return the rewriting of a text with its first question answered so."""
    asked = rewrite(text).questions[0]
    answer = Answer(
        asked.ask,
        choice,
        changes.get("words", asked.words),
        asked.piece,
        asked.about,
        asked.occurrence,
        "answers.toml line 9",
    )
    return rewrite(text, Options(answers=(answer,)))


def statuses(report: Report) -> list[str]:
    return [p.status for p in report.passages]


def test_a_question_has_its_place_its_words_and_its_choices() -> None:
    (asked,) = rewrite(UNNAMED).questions
    assert asked.ask == "kind"
    assert asked.question.startswith("Is this a shoulder?")
    assert list(asked.choices) == ["shoulder", "other"]
    assert UNNAMED[slice(*asked.span)] == asked.words == UNNAMED.splitlines()[1]


def test_the_kind_is_answered() -> None:
    assert statuses(answered(UNNAMED, "shoulder")) == ["rewritten"]
    assert statuses(answered(UNNAMED, "other")) == ["left"]


def test_the_sts_before_are_answered_for_every_size() -> None:
    report = answered(FRONT + LAST, "24(25:28)")
    assert statuses(report) == ["rewritten"]
    assert report.passages[0].edges[0].steps == ((8, 8, 9), (8, 8, 9), (8, 9, 10))
    assert report.passages[0].verification.result == "same"


def test_sts_that_do_not_go_with_the_steps_stay_a_question() -> None:
    report = answered(FRONT + LAST, "16(16:18)")
    assert statuses(report) == ["question"]
    assert report.output == FRONT + LAST


def test_words_that_change_nothing_are_left_out_with_what_belongs_to_them() -> None:
    text = FRONT + "Cast off 8 sts at beg of next and foll alt row, minding the pattern, "
    text += "work 1 row, then cast off rem 8 sts.\n"
    asked = rewrite(text).questions[0]
    assert (asked.ask, asked.about) == ("words", "minding the pattern")
    report = answered(text, "harmless")
    assert statuses(report) == ["rewritten"]
    # "the pattern" alone would be one more row
    plain = rewrite(text.replace("minding the pattern, ", ""))
    assert report.passages[0].edges == plain.passages[0].edges
    assert any(d.code == "words-dropped" for d in report.diagnostics)
    assert statuses(answered(text, "leave")) == ["left"]


def test_words_on_which_others_may_hang_cannot_be_called_harmless() -> None:
    text = HEAD + "Shape shoulders\nCast off 8 sts at beg of next 4 rows.\n"
    text += "Work 1 row upside 32 sts, cast off.\n"
    (asked,) = [q for q in rewrite(text).questions if not q.optional]
    assert asked.about == "upside"
    assert asked.ask == "" and not asked.choices


def test_an_answer_serves_a_revision_whose_other_words_changed() -> None:
    asked = rewrite(UNNAMED).questions[0]
    answer = Answer(asked.ask, "shoulder", asked.words, asked.piece)
    revised = "A NOTE\nThis is the second draft.\n\n" + UNNAMED.replace("next 4", "*next*\n4")
    revised = revised.replace("*", "")
    report = rewrite(revised, Options(answers=(answer,)))
    assert statuses(report) == ["rewritten"]
    assert not report.unused_answers


def test_answers_find_a_passage_whose_first_words_were_called_harmless() -> None:
    draft = (
        "BACK\nSizes 8(10:12)\nWork until armholes measure 20 cm.\nShape shoulders\nKeeping the cable panel "
        "tidy, cast off 8(9:9) sts at beg of next 4 rows.\nCast off rem 30 sts.\n"
    )
    (asked,) = rewrite(draft).questions
    assert asked.ask == "words"
    harmless = Answer("words", "harmless", asked.words, asked.piece, asked.about, asked.occurrence)
    further = rewrite(draft, Options(answers=(harmless,))).questions
    assert [q.ask for q in further] == ["first-side"]
    side = Answer("first-side", "RS", further[0].words, further[0].piece)
    both = rewrite(draft, Options(answers=(harmless, side)))
    assert not both.unused_answers and not both.questions
    assert "(wrong side)" in both.output


def test_an_answer_without_its_quotes_is_told_how_to_be_written(
    draft: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "q.toml"
    main(["read", str(draft), "--questions", str(file)])
    written = file.read_text(encoding="utf-8")
    for said in ("shoulder", "24"):
        bare = written.replace('answer = ""', f"answer = {said}", 1)
        file.write_text(bare, encoding="utf-8")
        capsys.readouterr()
        assert main(["rewrite", str(draft), "--answers", str(file)]) == 2
        assert f'write it in quotes: answer = "{said}"' in capsys.readouterr().err


def test_an_answer_whose_words_are_gone_is_named_and_not_used() -> None:
    report = answered(UNNAMED, "shoulder", words="Cast off 7 sts at beg of next 4 rows.")
    assert statuses(report) == ["question"]
    (unused,) = report.unused_answers
    assert unused.place == "answers.toml line 9"


def test_passages_with_the_same_words_are_told_apart_by_piece_and_order() -> None:
    run = "Cast off 8 sts at beg of next 4 rows.\n"
    text = f"TOP ONE\n{run}\nPOCKET\n{run}"
    asked = [q for q in rewrite(text).questions if q.ask == "kind"]
    if len(asked) == 2:
        answer = Answer("kind", "shoulder", asked[1].words, asked[1].piece, "", asked[1].occurrence)
        report = rewrite(text, Options(answers=(answer,)))
        assert statuses(report) == ["question", "rewritten"]


def test_the_side_that_the_draft_tells_overrules_an_answer() -> None:
    text = HEAD + "Shape shoulders\nCast off 8(9:9) sts at beg of next 4 rows.\n"
    answer = Answer("first-side", "WS", text.splitlines()[4], "back")
    report = rewrite(text, Options(answers=(answer,)))
    assert report.passages[0].edges[0].first_bind_off_side == "RS"
    assert any(d.code == "answer-overruled" for d in report.diagnostics)


def test_sides_that_contradict_each_other_are_settled_by_an_answer() -> None:
    text = HEAD + "Shape shoulders\nRow 1 (WS): Cast off 8 sts, p to end.\n"
    text += "Row 2: Cast off 8 sts, k to end.\nRow 3: Cast off 8 sts, p to end.\n"
    text += "Row 4: Cast off 8 sts, k to end.\nCast off rem 30 sts.\n"
    asked = rewrite(text).questions[0]
    assert asked.ask == "first-side"
    report = answered(text, "RS")
    assert statuses(report) != ["question"]
    if statuses(report) == ["rewritten"]:
        assert report.passages[0].verification.result == "same"


def test_a_number_behind_the_rest_is_its_count() -> None:
    text = HEAD.replace("8(10:12)", "8") + "Shape shoulders\n"
    text += "Bind off for the shoulders 2 times 9 sts on each side, every 2 rows. "
    text += "Bind off all the sts that remain, 31 sts, at one time.\n"
    report = rewrite(text)
    assert statuses(report) == ["rewritten"]
    assert report.passages[0].neck == (31,)


def test_every_kind_of_question_has_choices_or_a_form() -> None:
    for name, asked in ASKS.items():
        assert bool(asked.choices) != bool(asked.form), name


# --- the command ------------------------------------------------------------------------------------


@pytest.fixture
def draft(tmp_path: Path) -> Path:
    path = tmp_path / "heron.txt"
    path.write_text(UNNAMED + "\n" + FRONT + LAST, encoding="utf-8")
    return path


def fill(file: Path, *answers: str) -> None:
    text = file.read_text(encoding="utf-8")
    for answer in answers:
        text = text.replace('answer = ""', f'answer = "{answer}"', 1)
    file.write_text(text, encoding="utf-8")


def test_questions_go_to_a_file_and_come_back_answered(
    draft: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "questions.toml"
    assert main(["rewrite", str(draft), "--questions", str(file)]) == 1
    assert capsys.readouterr().out == ""
    text = file.read_text(encoding="utf-8")
    assert "# Line 2, " in text and '#   "shoulder"' in text
    (entries,) = tomllib.loads(text)["draft"]
    assert entries["name"] == "heron.txt"
    assert [q["ask"] for q in entries["question"]] == ["kind", "stitches"]
    fill(file, "shoulder", "24(25:28)")
    out = tmp_path / "new.txt"
    assert main(["rewrite", str(draft), "--answers", str(file), "-o", str(out)]) == 0
    assert "turn" in out.read_text(encoding="utf-8")
    assert main(["read", str(draft), "--answers", str(file)]) == 0


def test_answers_already_given_are_kept_and_never_overwritten(
    draft: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "questions.toml"
    main(["read", str(draft), "--questions", str(file)])
    fill(file, "shoulder")
    assert main(["read", str(draft), "--questions", str(file)]) == 2
    assert "would be lost" in capsys.readouterr().err
    main(["read", str(draft), "--questions", str(file), "--answers", str(file)])
    kept = tomllib.loads(file.read_text(encoding="utf-8"))["draft"][0]["question"]
    assert {q["ask"]: q["answer"] for q in kept} == {
        "stitches": "",
        "first-side": "",
        "kind": "shoulder",
    }


def test_one_file_holds_the_answers_for_several_drafts(
    draft: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = tmp_path / "teal.txt"
    other.write_text("Sizes 8(10:12)\nCast off 7 sts at beg of next 4 rows.\n", encoding="utf-8")
    file = tmp_path / "all.toml"
    main(["read", str(draft), "--questions", str(file)])
    main(["read", str(other), "--questions", str(file), "--answers", str(file)])
    names = {d["name"] for d in tomllib.loads(file.read_text(encoding="utf-8"))["draft"]}
    assert names == {"heron.txt", "teal.txt"}
    third = tmp_path / "rail.txt"
    third.write_text(UNNAMED, encoding="utf-8")
    capsys.readouterr()
    assert main(["read", str(third), "--answers", str(file)]) == 1
    assert "has no draft named 'rail.txt'" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("find", "put", "said"),
    [
        ('answer = ""', 'answer = "sholder"', "'sholder' is not one of the choices: \"shoulder\""),
        ('ask = "kind"', 'ask = "sort"', "'sort' is no question known here"),
        ('ask = "kind"\n', "", "ask: field required"),
        ('ask = "kind"', 'ask "kind"', "at line 16"),
        ('"slopewise/answers/1"', '"other/1"', "schema"),
        ('answer = ""\n', 'answer = ""\nanswers = 1\n', "answers"),
    ],
)
def test_what_is_wrong_in_a_file_of_answers_is_named_with_its_line(
    draft: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    find: str,
    put: str,
    said: str,
) -> None:
    file = tmp_path / "q.toml"
    main(["read", str(draft), "--questions", str(file)])
    text = file.read_text(encoding="utf-8")
    assert find in text
    file.write_text(text.replace(find, put, 1), encoding="utf-8")
    capsys.readouterr()
    assert main(["rewrite", str(draft), "--answers", str(file)]) == 2
    told = capsys.readouterr().err
    assert said in told
    if put.startswith(("answer", "ask =")):
        line = text[: text.index(find)].count("\n") + 1
        assert f"q.toml line {line}" in told or f"q.toml line {line + 1}" in told


def test_counts_for_another_number_of_sizes_are_named_with_their_line(
    draft: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "q.toml"
    main(["read", str(draft), "--questions", str(file)])
    fill(file, "shoulder", "24(25)")
    assert main(["rewrite", str(draft), "--answers", str(file)]) == 2
    assert "holds 2 numbers, but there are 3 sizes" in capsys.readouterr().err


def test_half_a_shoulder_is_not_asked_about_while_the_other_half_is_not_understood() -> None:
    text = (
        "Shape for the shoulder and neck as follows: Next row—Cast off 6, knit until there are 18 "
        "stitches on the right-hand needle, turn. Work upon these stitches only, leaving the others "
        "on a spare needle. Next row—Cast off 3, purl to end. Next row—Cast off 7, knit to end. "
        "Next row—Cast off 2, purl to end. Cast off the remaining 6 stitches.\n"
    )
    report = rewrite(text)
    if [p.status for p in report.passages] == ["rewritten"]:
        return  # read as a whole
    for asked in [q for q in report.questions if q.ask]:
        for choice in asked.choices:
            answer = Answer(asked.ask, choice, asked.words, asked.piece, asked.about)
            again = rewrite(text, Options(answers=(answer,)))
            assert len({p.status for p in again.passages}) == 1
            assert again.output == text
    assert not [q for q in report.questions if q.ask == "neck-rows"]


def test_what_no_answer_settles_is_not_counted_as_a_question(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    draft, out = tmp_path / "draft.txt", tmp_path / "q.toml"
    draft.write_text(
        HEAD + "Shape shoulders\nCast off 8 sts at beg of next 4 rows.\n"
        "Work 1 row, minding the gap, upside 32 sts, cast off.\n"
    )
    main(["rewrite", str(draft), "--questions", str(out), "-o", str(tmp_path / "o.txt")])
    told = capsys.readouterr().err
    assert "nothing to answer; 2 that no answer settles" in told
    asked = out.read_text()
    assert "change what is knitted?" not in asked
    assert "'upside'" in asked
    assert "others hang on them" in " ".join(asked.replace("#", "").split())


def test_a_diagnostic_quotes_the_whole_phrase_that_is_asked_about() -> None:
    text = FRONT + "Cast off 8 sts at beg of next and foll alt row, minding the pattern, "
    text += "work 1 row, then cast off rem 8 sts.\n"
    report = rewrite(text)
    (asked,) = [q for q in report.questions if q.ask == "words"]
    (told,) = [d for d in report.diagnostics if d.code == "words-not-understood"]
    assert repr(asked.about) in told.message
    assert told.span == asked.span


def test_upon_is_on() -> None:
    text = HEAD + "74 sts.\nShape shoulders\nCast off 7 sts at beg of next 6 rows.\n"
    text += "Work one row upon the remaining 32 stitches, then cast them off for the back of the neck.\n"
    assert statuses(rewrite(text)) == ["rewritten"]
