"""The text of the clause grammar: its rules, and the terminals that are made from the lexicon."""

from __future__ import annotations

from rewriter._resources import grammar_file
from rewriter.afterlast import FIRST_STEP
from rewriter.amounts import (
    ORDINALS,
    amount_pattern,
    measure_pattern,
    ordinal_pattern,
    row_number_pattern,
    sized_pattern,
    step_list_pattern,
)
from rewriter.lexicon import TERMINALS, lexicon
from rewriter.purposes import purpose_pattern
from rewriter.shortrowwords import short_row_terminals

_PUNCTUATION = 10
"""Priority above that of the marks in tokens.lark; the terminals made here stand over it."""


_SINCE = (
    r"(?:(?:counted|counting)\s+)?(?:from|since|above|of)\s+(?:the\s+)?(?!(?:each|both|every|side|sides)\b)"
    r"[a-z][a-z-]*(?:\s+(?:beg|beginning|start|edge|shapings?|marks?|markers?|pattern|bands?|rows?|decreases?))?"
    r"(?:\s+of\s+(?:the\s+)?(?:armholes?|rib(?:bing)?|work|piece|border|welt))?(?![a-z])"
)
"""From where rows are counted that lead up to a shaping: "from the ribbing", "counted from armhole start"."""


def _escaped(pattern: str) -> str:
    return pattern.replace("/", r"\/")


_BRINGS = r"(?:bring|brings|brought|take|takes|lead|leads)\s+(?:you|us)(?:\s+(?:back|again|round))?"
EDGE_ALONE = (
    r"(?:the\s+)?(?:arm-?hole|arm|side|neck|shoulder)(?:\s+(?:edge|side|end))?(?=\s*(?:[.,;]|$))"
)
"""An edge named without the word for one: "this brings you to the armhole"."""


def grammar_text() -> str:
    """Return the whole clause grammar: rules, tokens, and terminals made from the lexicon."""
    words = dict(lexicon().patterns)
    # "and again two rows on"
    # "let the other sts rest"; but "cast off rest" takes what is left
    words["HOLDER"] = (
        rf"(?:{words['HOLDER']}|(?<=(?<![a-z])(?:sts|stitches|loops|others|rest|remainder)\s+)(?:rest|wait)(?![a-z]))"
    )
    words["LATER"] = (
        rf"(?:{words['LATER']}|(?<=rows\s+)on(?=\s*(?:[.,;)]|$|(?:and|then)(?![a-z]))))"
    )
    # "at the beg of this and the next 2 RS rows"
    words["AND_FOLL"] = (
        rf"(?:{words['AND_FOLL']}|(?<=(?<![a-z])this\s+)(?:and|&)\s+(?:on\s+)?(?:the\s+)?next)"
    )
    # "on the next row, which begins at the armhole"
    words["ROW_BEGINS"] = (
        rf"(?:{words['ROW_BEGINS']}|,\s+(?:that|which)\s+(?:begins|starts|commences)(?![a-z]))"
    )
    # "knit to the neck edge and back again", "then knit a row"
    words["BACK_ROW"] = (
        rf"(?:{words['BACK_ROW']}|(?<=(?<![a-z])(?:end|neck|edge|row|there|across)\s*,?\s+)(?:and\s+)?back"
        r"(?:\s+(?:once\s+)?again|\s+once\s+more)?"
        r"(?:\s+to\s+(?:the\s+)?(?:side|armhole|arm|shoulder|outer)(?:\s+edge)?)?(?=\s*(?:[.,;]|$))"
        r"|(?<![a-z])(?:work|knit|purl|k|p)\s+a\s+row(?=\s*(?:[.,;]|$|(?:and|then|over|across)(?![a-z]))))"
    )
    # "bind off 6 stitches, knit the row, knit back"
    words["TO_END"] = (
        rf"(?:{words['TO_END']}|(?<=(?<![a-z])(?:knit|purl|work|k|p)\s+)the\s+row(?=\s*(?:[.,;]|$|and(?![a-z]))))"
    )
    # "Rep this row until 36 sts remain", "work this row 5 times more": the row told last
    again = (
        rf"(?:(?<=(?<![a-z])rep(?:eat|eating)?\s+)this(?=\s+{words['ROW']})"
        rf"|(?<=(?<![a-z])(?:work|knit|do|working)\s+)this(?=\s+{words['ROW']}\s+(?:until|once|twice|thrice"
        r"|another|again|over|(?:\d+|[a-z]+)\s*(?:x|(?:more\s+)?times?)(?![a-z]))))"
    )
    words["LAST"] = rf"(?:{words['LAST']}|{again})"
    words["NEXT"] = rf"(?:(?!{again}){words['NEXT']})"
    rep = rf"rep(?:eat|eating)?(?=\s+this\s+{words['ROW']})"
    words["REPEAT"] = rf"(?:(?!{rep}){words['REPEAT']}|(?<![a-z]){rep})"
    # "turn 7 sts before the end of the next 2 rows"
    words["AT_END"] = (
        rf"(?:{words['AT_END']}|(?<={words['STITCH']}\s+)(?:before|from|short\s+of)\s+(?:the\s+)?end\s+of"
        rf"\s+(?:each\s+of\s+|both\s+)?(?:the\s+)?(?={words['NEXT']}\s|{words['FOLL']}\s|{words['EVERY']}\s))"
    )
    # "rejoin yarn to first set": a noun
    words["HOLD"] = (
        rf"(?:(?!(?<=(?<![a-z])(?:first|second|last|other|1st|2nd)\s+)set){words['HOLD']})"
    )
    # "and the same on the foll alt row"
    words["SAME_NUMBER"] = (
        rf"(?:{words['SAME_NUMBER']}|(?<!(?:at|in|on)\s+)(?<![a-z])(?:the\s+same|likewise)"
        r"(?=\s+(?:at|on)\s+(?:each\s+of\s+)?(?:the\s+)?(?:beg(?:inning)?|start|foll(?:owing)?|next|2nd|second)(?![a-z])))"
    )
    # "..., which will bring you to the armhole"
    words["EDGE"] = rf"(?:{words['EDGE']}|(?<={_BRINGS}\s+to\s+){EDGE_ALONE})"
    amount = amount_pattern()
    numbers = "|".join(lexicon().numbers)
    some = rf"(?:[\d(\[-][\d\s,:;/()\[\]-]*|(?:{numbers})(?![a-z]))"
    outer = r"(?:armhole|arm-hole|arm|shoulder|side|outer)[\s-](?:edge|side)"
    rows = rf"(?:{words['ALT']}\s+|{words['RS_WS']}\s+|{outer}\s+)?{words['ROW']}"
    some_rows = rf"(?:{some}\s*)?{rows}"
    and_alt = rf"(?<![a-z])(?:and|&)(?:\s+the)?(?=\s+(?:{some}\s*)?{words['ALT']}\s+{words['ROW']})"
    and_some = (
        rf"(?:and|&)\s+(?:on\s+)?(?:the\s+)?{amount}\s+{words['FOLL']}"
        rf"\s+(?:{words['ALT']}|{words['RS_WS']})\s+{words['ROW']}"
    )
    times_x = r"(?:x(?=\s?[\d(])|h(?=\d))"  # "2x6", read by a scanner as "2h6"
    # "rep last row 5x", "5 x more"
    words["TIMES"] = rf"(?:{words['TIMES']}|x(?=\s*(?:[.;,)\]]|$|more(?![a-z]))))"
    # "a row on the right side": where the side alone is told
    row_on = rf"(?:row|{lexicon().needles})\s+(?:on|from|of|in)(?=\s+{words['RS_WS']})"
    also = r"(?:likewise|similarly|ditto)(?![a-z])"
    # "on the next two RS/WS row pairs, and 6 sts on the third pair"; "Pair one: ..."
    pairs = (
        r"(?:(?:rs\s*/\s*ws\s+|ws\s*/\s*rs\s+)?row[\s-]pairs?|(?:rs\s*/\s*ws\s+|ws\s*/\s*rs\s+)pairs?"
        r"|pairs?\s+of\s+(?:rs\s*/\s*ws\s+)?rows)(?![a-z])"
    )
    some_pairs = rf"(?:{some}\s*)?{pairs}"
    nth = rf"(?:\d(?:st|nd|rd|th)|{'|'.join(ORDINALS)})"
    pair_named = (
        rf"(?<![a-z])(?:(?:the\s+)?{nth}\s+(?:{pairs}|pair(?![a-z]|\s+of\s+(?!rows)))"
        rf"|pair\s+(?:(?:{numbers})(?![a-z])|\d{{1,2}})"
        r"(?=\s*(?:\([rw]s[^)]*\)\s*)?[:.,;\u2013\u2014-]))"
    )
    ahead = {
        "WHEN_HIGH": rf"\s+(?:{measure_pattern()}|\d{{2,3}}[\d\s,:;/()\[\]-]*{words['ROW']})",
        "WORKED_ROW": r"(?=\s*(?:[.,;&]|$|(?:and|then|for|on|at|with|to)(?![a-z])))",
        "DO": rf"\s+(?:these|those|the\s+(?:last|previous|above))\s+{some_rows}",
        "DO_LIKE": rf"\s+{amount}\s*{words['STITCH']}",
        "NEXT": rf"\s+(?:{some_rows}|{some_pairs})",
        "FOLL": rf"\s+(?:{some_rows}|{some_pairs})",
        "AND_FOLL": rf"\s+{some_rows}",
        "FIRST": rf"\s+{some}\s*{words['ROW']}",
        "LAST": rf"\s+(?:{some}\s*)?{words['ROW']}",
        "EVERY": rf"\s+(?:{words['RS_WS']}\s+)?{words['ROW']}",
        "STARTING": rf"\s+(?:{words['RS_WS']}\s+{words['ROW']}|{row_on}|{words['RS_WS']}(?=\s*(?:[.,:;]|$)))",
        # "beg with a purl row", "begin the slope of the shoulders"
        "AT_BEG": r"(?!\s+(?:with|on)\s+an?\s"
        r"|(?<=(?<![a-z])(?:begin|start)(?:\s+the)?)\s+(?:the\s+)?(?:slop|slant|shap|bevel|shoulder|neck|armhole))",
        "FROM_EDGE": rf"(?<={words['ROW']}\s+{words['FROM_EDGE']})",
        "TO_LAST": rf"\s+(?:{some}|{words['STITCH']})",
        "TO_END": r"(?!\s+(?:until|till)(?![a-z]))",  # "p across until 8 sts remain"
        "ALL": rf"(?!\s+{some})",
        # "at armhole height 18 cm", "on the right side"
        "EDGE": r"(?!\s+(?:height|depth|side|needle|pin)(?![a-z])|[\s-]hand\s|-side\s)",
        "ON_NEEDLE": rf"(?!\s+(?:on|from|of)\s+{words['RS_WS']})",  # "on the needle on the wrong side"
        "ENDING": rf"(?!\s+(?:the\s+)?{words['ROW']})",  # "bind off 8 sts, finish row"
        "ROW_BEGINS": rf"\s+{words['EDGE']}",
        "LARGER": rf"(?!\s+{words['ROW']})",  # "in the 2nd row"
        # not "you should now have 160 rows"
        "SHOULD_BE": rf"(?=\s+{some})(?!\s+{amount}\s*{rows})",
        "MAKES": rf"\s*{amount}\s*(?:{words['STITCH']}|[.;)]|$)",
    }
    before = rf"(?:{words['BEFORE_END']}|{words['BEFORE_TURN']})"
    # "after 142 rows from the rib", "when the armhole reaches 56 rows": rows that lead up to what follows;
    # "in the 57th (59th) row from the armhole" counts them, too
    up_to = (
        r"(?=\d{2,3}(?!\d))(?<=(?<![a-z])(?:after|at|upon)\s+"
        r"(?:(?:a\s+)?(?:total|height|depth)\s+of\s+|(?:another|a\s+further)\s+)?"
        rf"|{words['WHEN_HIGH']}\s+)"
    )
    ordinal = r"\d{2,3}(?:st|nd|rd|th)"
    others_nth = rf"(?:\s?[(\[]\s?{ordinal}(?:\s?[,:;/-]\s?{ordinal})*\s?[)\]](?:\s?{ordinal})?)"
    nth_high = (
        rf"(?<=(?<![a-z])(?:in|on|with)\s+(?:the\s+)?){ordinal}"
        rf"(?:{others_nth}+(?=\s*{words['ROW']})|(?=\s*{words['ROW']}\s+{_SINCE}))"
    )
    # "when 58 rows are finished from the beginning of the armhole"
    worked = r"(?:are|have\s+been)\s+(?:now\s+)?(?:finished|worked|completed|complete|done|knitted)"
    when = r"(?<=(?<![a-z])(?:when|once|after|until|till)\s+)"
    others = r"(?:[(\[][^()\[\]]*[)\]]\s+)?"
    after_row = r"(?:after|following|at\s+(?:the\s+)?end\s+of|on\s+completion\s+of)\s+(?:the\s+)?"
    made = [
        ("FIRST_STEP", rf"(?<=^\W*){FIRST_STEP}"),
        (
            "N_HIGH",
            rf"(?:{up_to}{amount}(?=\s*{words['ROW']}(?!\s+later))|{when}{amount}(?=\s*{words['ROW']}\s+{others}{worked}))",
        ),
        # "in the 55th (59th, 63rd) row from the beginning of the armhole"
        ("NTH_HIGH", nth_high),
        (
            "SINCE_ROWS",
            rf"(?:(?<={up_to}{amount}\s*{words['ROW']}\s+){_SINCE}"
            rf"|(?<={words['ROW']}\s+){worked}(?:\s+{_SINCE})?(?![a-z])"
            rf"|(?<={nth_high}\s*{words['ROW']}\s+){_SINCE})",
        ),
        # "when 58 rows (62 rows) are finished"
        (
            "WORKED",
            rf"(?<={words['ROW']}\s+[(\[][^()\[\]]*[)\]]\s+){worked}(?:\s+{_SINCE})?(?![a-z])",
        ),
        (
            "TO_N",
            rf"(?<![a-z])(?:(?:across\s+)?to\s+within|up\s+to|to|until|till|(?:but\s+)?stop(?:ping)?)(?=\s+{amount}\s*(?:{words['STITCH']}\s+)?{before})",
        ),
        # "..., then the same again with 8 sts"
        ("SAME_AGAIN", rf"(?<![a-z])the\s+same\s+(?:once\s+)?(?:again|more)(?=\s+with\s+{amount})"),
        ("PAIR_NAMED", pair_named),
        ("PAIRS", pairs),
        ("N_PAIRS", rf"{amount}(?=\s*{pairs})"),
        ("ROW_ON", rf"(?<![a-z]){row_on}"),
        # "on the next WS row likewise 7 sts"; "the WS row that follows likewise"
        # "on the next WS row likewise 7 sts"; not "likewise 7 sts on the two rows after"
        (
            "ALSO",
            rf"(?<![a-z]){also}(?=\s+{amount}\s*{words['STITCH']}(?!\.?\s+(?:on|in|over|at)(?![a-z])))",
        ),
        ("LIKEWISE", rf"(?<![a-z]){also}(?=\s*(?:[.;,]|$))"),
        # "40 sts remain after row 4", "(40 sts at end of row 4)"
        (
            "AFTER_ROW",
            rf"(?={after_row})(?:(?<={words['REMAIN']}\s+)|(?<=[(\[;:-]\s*{amount}\s*(?:{words['STITCH']}\s+)?))"
            rf"{after_row}{row_number_pattern()}",
        ),
        ("FROM_HEIGHT", rf"(?<![a-z])(?:from|upwards\s+from)(?=\s+(?:the\s+)?{measure_pattern()})"),
        # "from row 55 bind off on every 2nd row 3x5": the row of the first of these steps
        (
            "FROM_ROW",
            r"(?<!(?<![a-z])(?:rep|repeat|repeating|work|again|counted|counting|armhole)\s+)(?<![a-z])"
            r"(?:from|(?:starting|beginning|commencing)\s+(?:with|on|in|from|at))(?:\s+the)?"
            rf"(?=\s+{row_number_pattern()}(?!\s*(?:-|to|until|up\s+to)\s))",
        ),
        ("REPEAT_LAST", r"(?<![a-z])(?:for\s+)?(?:one|a)\s+(?:last|final)\s+time(?![a-z])"),
        ("ROW_NUMBER", row_number_pattern()),
        *short_row_terminals(words, amount),
        ("STEP_LIST", step_list_pattern()),
        (
            "REPEAT_AS",
            rf"(?<![a-z])(?:(?:work\s+|same\s+)?(?:as|like)\s+(?:for\s+)?(?={row_number_pattern()})"
            rf"|(?:work|knit|do)\s+(?={row_number_pattern()}\s+(?:again|once\s+more|over\s+again))"
            # "work as for last 2 rows, but stopping 6 sts sooner"
            rf"|(?:work\s+)?(?:exactly\s+)?(?:as|like)\s+(?:(?:given\s+)?for\s+|on\s+|in\s+)?"
            rf"(?=(?:the\s+)?(?:last|previous|prev|these|those)\s+(?:{some}\s*)?{words['ROW']}))",
        ),
        (
            "ENDING_BARE",
            rf"(?<![a-z])(?:(?:ending|end|finishing|finish|(?:the\s+)?last\s+row)"
            rf"(?=\s+(?:{words['RS_WS']}|{words['WORK']}\s+row))"
            rf"|after(?=\s+(?:an?|one|the)\s+{words['RS_WS']}[\s-]+(?:row|needle)(?![a-z]))"
            # "Knit 2 more ridges; you are at the armhole edge"
            r"|(?:(?:and|so|so\s+that)\s+)?you\s+(?:are|stand|will\s+be)(?:\s+(?:now|back))*"
            r"(?=\s+at\s+(?:the\s+)?(?:(?:armhole|arm|shoulder|side|outer|neck|front|inner)\s+edge"
            r"|arm-?hole(?=\s*(?:[.,;]|$))))"
            # "..., which will bring you to the armhole"
            rf"|(?:and\s+)?(?:which|this|that|it)\s+(?:(?:will|should)\s+)?(?:now\s+)?{_BRINGS}\s+to"
            rf"(?=\s+{EDGE_ALONE}))",
        ),
        ("MEASURE", measure_pattern()),
        ("ORDINAL", ordinal_pattern()),
        # "until 9 sts remain of the original 25 sts": those before the shaping
        (
            "ORIGINAL",
            rf"(?<![a-z])(?:out\s+)?of\s+(?:the|your)\s+(?:original|first)(?=\s+{amount}\s*{words['STITCH']})",
        ),
        ("N_SIZED_LEFT", sized_pattern(left=True)),
        ("N_SIZED", sized_pattern(left=False)),
        # "7 sts on the two rows after": the next two
        (
            "N_AFTER",
            rf"(?<=(?<![a-z])(?:on|in|over|of)\s+(?:(?:each|both|all)\s+of\s+)?the\s+){amount}"
            rf"(?=\s*(?:{words['ALT']}\s+)?{words['ROW']}\s+{words['LATER']})",
        ),
        # "close in the next 2nd row 6 more loops"
        (
            "N_MORE",
            # not "leaving 7 more sts unworked each time", "turn 7 more sts before the end"
            rf"(?<!(?:{words['HOLD']}|{words['TURN']}|{words['WORK']})\s+(?:the\s+(?:next|last)\s+)?){amount}"
            rf"(?=\s+(?:more|further)\s+{words['STITCH']}\.?\s*(?:[.;,]|$))",
        ),
        # "Go back to the waiting sts, bind off the 14 sts in the middle": the row begins there
        (
            "JOIN_AT",
            r"(?<![a-z])(?:go|come|return)(?:\s+back)?\s+to\s+the\s+(?:other\s+)?(?:waiting|held|resting|rem|remaining|other)"
            rf"\s+{words['STITCH']}(?=\s*,\s*(?:(?:and|then)\s+)?(?:{words['BIND_OFF']}|{words['WORK']}))",
        ),
        # "the 36 sts which remain are cast off in one"
        (
            "IN_ONE",
            r"(?<![a-z])(?:all\s+)?in\s+one(?:\s+(?:step|go|stroke|piece))?(?:\s+-\s+(?:a|the)\s+neck(?:line)?)?"
            r"(?=\s*(?:[.;,]|$))",
        ),
        ("N_STITCHES", rf"{amount}(?=\s*{words['STITCH']})"),
        ("N_ROWS", rf"{amount}(?=\s*(?:{words['MORE']}\s+)?{rows})"),
        ("N_SHARES", rf"(?<=(?<![a-z])in\s+){amount}(?=\s*{words['SHARES']})"),
        ("N_TIMES", rf"(?:{amount}|[(\[]\s*\d+\s*[)\]])(?=\s*(?:{words['TIMES']}|{times_x}))"),
        ("TIMES_X", times_x),
        # "6 sts at beg of row x 6", "(...) x 3"
        (
            "X_TIMES",
            r"(?<=[a-z)\]]\s*)x(?=\s?\d{1,2}(?!\s?[\d(\[/,x-]|\s*(?:st|sts|stitches|rows?)(?![a-z])))",
        ),
        ("N_OFTEN", r"(?<=(?<![a-z\d])x\s?)\d{1,2}"),
        (
            "N_FOLL",
            rf"{amount}(?=\s+{words['FOLL']}\s+{rows})",
        ),
        # "8 sts at start of the two after that": "rows" is dropped
        (
            "N_LATER",
            rf"(?<={words['AT_BEG']}\s+(?:each\s+of\s+)?(?:the\s+)?){amount}(?=\s+{words['LATER']})",
        ),
        ("N", amount),
        (
            "REMAIN",
            rf"(?<=(?:{words['STITCH']}|[\d)\]]|(?<![a-z])(?:{numbers}))\s*){words['REMAIN']}",
        ),
        ("REMAIN_ALONE", rf"(?<=\)\s*){words['REMAIN']}"),
        (
            "REM_N",
            rf"(?:{words['REM']}(?=\s+{some})"
            rf"|{words['LAST_STS']}(?=\s+{some}\s*(?:{words['STITCH']}|[.;]|$|(?:on|at)\s+the\s"
            # "Put last 22 on a pin"
            rf"|on(?:\s?to)?\s+an?\s))"
            # "Bind off all 38 sts"
            rf"|(?<={words['BIND_OFF']}\s+(?:(?:loosely|across|over)\s+)?)(?:all|(?:the\s+)?whole|every\s+one\s+of\s+the)"
            rf"(?=\s+{some}\s*(?:{words['STITCH']}|[.;,]|$)))",
        ),
        # "7 sts at beg of next 4 rows, 6 sts at beg of next 2": the second "rows" is dropped
        (
            "NEXT_N",
            rf"(?<=(?:{words['AT_BEG']}|(?<![a-z])(?:on|over))\s+(?:the\s+)?)(?:{words['NEXT']}|{words['FOLL']})"
            rf"(?=\s+{amount}\s*(?:[.,;]|$|{words['LINK']}))",
        ),
        # "on the next row and the row after that"
        (
            "A_ROW",
            rf"(?<=(?:{words['LINK']}|{words['AT_BEG']}|{words['STITCH']}|[,;])\s+)(?:of\s+|on\s+)?the\s+row(?=\s+{words['LATER']})",
        ),
        # "on that row and the next", "on the first row and the next"
        (
            "NEXT_ALONE",
            rf"(?<={words['ROW']}\s+(?:and|&)\s+(?:on\s+|in\s+)?){words['NEXT']}(?=\s*(?:[.,;]|$|{words['LINK']}))",
        ),
        # "8 sts off at the beginning of each of the next 6 rows"
        (
            "OFF_BEHIND",
            rf"(?<={words['STITCH']}\s+)(?:(?:go|goes|come|comes|taken)\s+)?off"
            rf"(?=\s+(?:{words['AT_BEG']}|(?:at|on|from)\s+(?:each|both|every|either)(?![a-z])))",
        ),
        ("AND_ALT", and_alt),
        (
            "TAIL",
            r"(?<![a-z])(?:leaving|leave)\s+(?:a|an)\s+[^.;,]{0,20}?(?<![a-z])(?:tail|end)(?:\s+for\s+[a-z]+)?",
        ),
        ("PURPOSE", purpose_pattern()),
        # "Slip rem sts on to a spare needle and leave."
        (
            "LEAVE_IT",
            r"(?<![a-z])and\s+leave(?:\s+(?:them|these|aside|until\s+(?:needed|required|wanted)"
            r"|for\s+(?:the\s+)?(?:present|time\s+being|now|later|back\s+neck|neck(?:band|line|\s+border"
            r"|\s+edging|\s+band)?|collar|hood)))*(?=\s*[.;]|\s*$)",
        ),
        ("ALT_ALONE", rf"(?<=(?<![a-z])the\s+)(?:alternate|alt)(?=\s+{words['ROW']})"),
        (
            "NEXT_BARE",
            # "in this and every alternate row"
            rf"{words['NEXT']}(?=\s+(?:{words['AND_FOLL']}|{and_alt}|{and_some}"
            rf"|(?:and|&)\s+(?:(?:on|in|at)\s+)?{words['EVERY_OTHER']}))",
        ),
        (
            "FIRST_STS",
            # what comes behind it is told sooner than what stands before
            rf"(?:(?=first\s+{some}\s*{words['STITCH']})"
            rf"(?<={words['BIND_OFF']}\s+(?:the\s+)?(?:{words['EACH_SIDE']}\s+)?|(?<![a-z])(?:then|and)\s+the\s+"
            # "at the same height as on the back: first 9 sts, then in every 2nd row 3 x 7 sts"
            r"|:\s*)first)"
            # "on next 6 rows the first 7 sts are bound off", "the first 7 sts of each of the next 6 rows"
            rf"|(?<![a-z])first(?=\s+{some}\s*{words['STITCH']}\s+(?:(?:are|is)\s+(?:bound|cast)\s+off"
            rf"|(?:of|on)\s+(?:each|every|{words['NEXT']})(?![a-z])))",
        ),
        ("BOTH_ENDS", rf"{words['BOTH_ENDS']}(?=\s+{some})"),
        ("NEXT_STS", rf"{words['NEXT']}(?=\s+{some}\s*{words['STITCH']})"),
        # "dec 1 st at neck edge on alt rows to 17 sts"
        (
            "UNTIL_N",
            rf"(?:{words['UNTIL']}(?=\s+{some})(?!\s+{measure_pattern()}|\s+{amount}\s*{words['ROW']}\s+{others}{worked})"
            rf"|(?<=(?<![a-z])rows?\s+)to(?=\s+{amount}\s*{words['STITCH']}))",
        ),
    ]
    for name in TERMINALS:
        if name in ("REMAIN", "LAST_STS", "BOTH_ENDS"):
            continue
        made.append((name, words[name] + (f"(?={ahead[name]})" if name in ahead else "")))
    lines = [
        f"{name}.{len(made) - place + _PUNCTUATION}: /{_escaped(pattern)}/"
        for place, (name, pattern) in enumerate(made)
    ]
    return "\n".join([grammar_file("clause.lark"), grammar_file("tokens.lark"), *lines])
