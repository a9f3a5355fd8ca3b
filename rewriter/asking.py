"""The files of questions and of answers that a command is given."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from rewriter.answers import WrongAnswer
from rewriter.commandfiles import Usage, text_of, write_file
from rewriter.options import Answer, Options
from rewriter.questionfile import AnswerFile, answers_for, questions_file, read_answers
from rewriter.report import Report
from rewriter.spans import SourceText, quote


class Asking:
    """The files of questions and of answers that a command was given."""

    def __init__(self, args: argparse.Namespace, source: SourceText) -> None:
        """Read the answers; raises Usage where they cannot be taken."""
        self.args, self.source = args, source
        self.known: AnswerFile | None = None
        self.answers: tuple[Answer, ...] = ()
        out = Path(args.questions) if args.questions else None
        try:
            if args.answers:
                text = text_of(args.answers)
                self.known = read_answers(text, args.answers)
                self.answers = answers_for(self.known, source.name, text, args.answers)
                self._name_missing_draft(args.answers)
            same = out and args.answers and Path(args.answers).resolve() == out.resolve()
            if out and out.exists() and not same:
                written = read_answers(text_of(args.questions), args.questions)
                if any(q.answer.strip() for d in written.draft for q in d.question):
                    raise Usage(
                        f"{out}: has answers in it, which would be lost; give it with --answers {out} "
                        "too, and they are kept"
                    )
        except WrongAnswer as error:
            raise Usage(str(error)) from None

    def _name_missing_draft(self, name: str) -> None:
        """Say that a file about several drafts is about others; a file about one serves its revisions."""
        drafts = [d.name for d in self.known.draft] if self.known is not None else []
        if len(drafts) > 1 and self.source.name not in drafts:
            print(
                f"{name}: has no draft named {self.source.name!r}, so none of its answers is used; its "
                f"drafts are {', '.join(drafts)}",
                file=sys.stderr,
            )

    def run(self, work: Callable[[SourceText, Options], Report], options: Options) -> Report:
        """Read or rewrite with the answers, and name those that found no passage."""
        try:
            report = work(self.source, replace(options, answers=self.answers))
        except WrongAnswer as error:
            raise Usage(str(error)) from None
        for unused in report.unused_answers:
            print(
                f"{unused.place}: the answer {unused.answer!r} is not used: no passage has the words "
                f"“{quote(unused.passage)}” any more",
                file=sys.stderr,
            )
        return report

    def write(self, report: Report) -> None:
        """Write the questions that are open, if their file was asked for."""
        out = self.args.questions
        if not out:
            return
        used = len(self.answers) > len(report.unused_answers)
        text = questions_file(report.questions, self.source, Path(out).name, self.known, used)
        write_file(Path(out), Path(self.args.draft), text.encode("utf-8"))
        must = sum(bool(q.ask) and not q.optional for q in report.questions)
        wrong = sum(not q.ask for q in report.questions)
        may = len(report.questions) - must - wrong
        told = (
            f"{must} question{'' if must == 1 else 's'} to answer" if must else "nothing to answer"
        )
        if wrong:
            told += f"; {wrong} that no answer settles: the draft itself must be put right"
        more = f"; {may} that may be, but need not" if may else ""
        print(f"{out}: {told}{more}", file=sys.stderr)
