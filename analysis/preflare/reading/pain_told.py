"""Pieces of a text about pain to reports: what one leaves open, and what it may take from those before it."""

from dataclasses import dataclass, field, replace

from preflare.reading.pain_marks import Marked, Value
from preflare.reading.pain_pieces import Piece
from preflare.reading.pain_said import (
    MUSCLES,
    NO_RATING,
    OPEN,
    OTHER_SIDE,
    OUTSIDE,
    SEVERAL,
    Doubt,
    PainSaid,
    PainText,
    Said,
)

SMALL = 7  # words of a piece that may lend its rating to the piece before


@dataclass(slots=True)
class Teller:
    """Takes the pieces of a text in order; what one piece leaves open it takes from those before, where it may."""

    said: Said
    reports: list[PainSaid] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    person: str | None = None
    last: Piece | None = None  # the piece before, where it named a site (or the text was asked for) and had a rating
    waiting: Piece | None = None  # the piece before, where it named a site that hurts and had no rating
    bare: Piece | None = None  # the piece before, where it named a site and nothing else but that it is fine
    is_lost: bool = (
        False  # the sentence speaks of another time or person, so that a rating behind a comma may be of that
    )
    early: str | None = None  # the moment that the sentence began with

    def take(self, piece: Piece) -> None:
        """Read one piece."""
        if piece.begins:
            self.early = None
            self.is_lost = False
            if not self.said.is_asked:
                self.person = None
        if piece.persons:
            if piece.persons[-1] != self.person:
                self.last = self.waiting = self.bare = None
            self.person = piece.persons[-1]
        if piece.is_early and (self.early is None or piece.value is not None or piece.sites):
            self.early = piece.moment
        (self._answer if self.said.is_asked else self._remark)(piece)

    def ended(self, marked: Marked) -> PainText:
        """All that was told; in an answer without any report something must be said of it."""
        if self.said.is_asked and not self.reports and not self.doubts:
            self.doubts.append(Doubt(marked.text, NO_RATING))
        return PainText(self.reports, self.doubts, marked.slips if self.reports else {})

    # Answers: the heading or the line asks for pain ----------------------------------------------------------------

    def _answer(self, piece: Piece) -> None:
        value = piece.value
        if value is None and piece.severity is None:
            self.is_lost = self.is_lost or piece.is_elsewhere or piece.is_other_day or piece.is_change
            self._none_or_nothing(piece)
            return
        if value is not None and value.rating > 10:
            self.doubts.append(Doubt(piece.text, OUTSIDE))
            return
        if self.is_lost:
            self.doubts.append(Doubt(piece.text, OPEN))
            return
        if piece.is_lone and self.last is not None and self.last.value is not None:
            self._take_back(piece)
            return
        is_denied = (piece.is_negated or piece.is_free) and not (value is not None and value.rating == 0)
        if (
            is_denied
            or piece.is_elsewhere
            or piece.is_other_day
            or piece.is_open
            or (value is not None and (value.is_odd or not piece.is_led))
        ):
            self.doubts.append(Doubt(piece.text, OPEN))
            self.last = piece
            return
        if value is None and not (piece.is_word_close or piece.is_known):
            self.doubts.append(Doubt(piece.text, NO_RATING))
            return
        if self._is_of_other_side(piece):
            self.doubts.append(Doubt(piece.text, OTHER_SIDE))
            return
        self._tell_answer(piece, None if value is None else value.rating)

    def _is_of_other_side(self, piece: Piece) -> bool:
        """Whether an answer begins with the other side than was asked for ("Right elbow: l2"): a slip, or no side."""
        is_first = not (self.reports or piece.sites or piece.persons)
        return is_first and {piece.side, self.said.side} == {"left", "right"}

    def _take_back(self, piece: Piece) -> None:
        """A number alone behind a rating ("3, 5") is its decimals, another side or another day: neither is known."""
        before = self.last.text if self.last is not None else ""
        self.reports = [one for one in self.reports if one.evidence != before]
        self.doubts.append(Doubt(f"{before}, {piece.text}", SEVERAL))

    def _none_or_nothing(self, piece: Piece) -> None:
        """An answer without rating: "none", "keine Schmerzen", "ok" are 0, and what else is there is left."""
        is_none = piece.is_none or (piece.is_free and piece.is_known) or (piece.is_negated and piece.kind == "pain")
        is_none = is_none or (piece.is_fine and piece.is_known and not piece.is_negated)
        if not is_none and self._adds_to_last(piece):
            return
        if piece.is_elsewhere or piece.is_change or not is_none:
            if piece.sites and not piece.is_fine:
                self.last = piece  # "wrist sore, 3"
            return
        repeats = (
            self.last is not None and not (piece.sites or piece.persons or piece.moment) and piece.side == "unknown"
        )
        if repeats and self.reports and self.reports[-1].person == self.person:
            return  # "elbows fine, no pain": once is enough
        self._tell_answer(piece, 0.0)

    def _adds_to_last(self, piece: Piece) -> bool:
        """Whether a piece is but the side or the moment of the rating before it ("3, li"), which then has it."""
        last = self.last
        is_plain = piece.is_known and not (piece.sites or piece.persons or piece.is_fine or piece.is_negated)
        if last is None or not is_plain or not (piece.moment or piece.side != "unknown"):
            return False
        side = piece.side if last.side == "unknown" else last.side
        moment = piece.moment if last.moment is None else last.moment
        for i, one in enumerate(self.reports):
            if one.evidence == last.text:
                self.reports[i] = replace(one, side=side, moment=moment, evidence=f"{last.text}, {piece.text}")
        self.last = replace(last, side=side, moment=moment)
        return True

    def _tell_answer(self, piece: Piece, rating: float | None) -> None:
        last = self.last
        sites = piece.sites or (last.sites if last else None) or list(self.said.sites) or [""]
        side = piece.side
        if side == "unknown" and last is not None and (piece.is_also or (not piece.sites and piece.moment)):
            side = last.side
        if side == "unknown":
            side = self.said.side or "unknown"
        moment = piece.moment or self.early or (last.moment if last and piece.is_also else None) or self.said.moment
        kind = piece.kind or self.said.kind or "pain"
        self.last = replace(piece, sites=[site for site in sites if site], side=side, moment=moment)
        for site in sites:
            self._add(site, side, rating, piece.severity, kind, moment, piece.text, piece.value)

    # Remarks: free text ----------------------------------------------------------------------------------------------

    def _remark(self, piece: Piece) -> None:
        value = piece.value
        if value is None and not piece.sites and piece.n_words <= 3 and (piece.is_elsewhere or piece.is_other_day):
            self.is_lost = True  # "yesterday, elbow 3/10"
        if self.is_lost:
            return
        rating = self._rating(piece)
        waiting, last, bare = self.waiting, self.last, self.bare
        self.waiting = self.last = self.bare = None
        if (
            value is not None
            and rating is None
            and piece.sites
            and (value.is_odd or value.rating > 10 or piece.is_open)
        ):
            if piece.kind or value.out_of_ten or (piece.is_close and value.rating <= 10):
                self.doubts.append(Doubt(piece.text, OUTSIDE if value.rating > 10 else OPEN))
            return
        if rating is not None and not piece.sites:
            self._rating_of_site_before(piece, rating, waiting, last)
            return
        if bare is not None and not piece.sites and self._denies(piece) and piece.is_known:
            self._reports_of(replace(piece, sites=bare.sites, side=bare.side), None, f"{bare.text}, {piece.text}")
            return
        if last is not None and piece.sites and piece.is_also:
            side = piece.side if piece.side != "unknown" else last.side
            piece = replace(piece, side=side, moment=piece.moment or last.moment)
        if waiting is not None and not piece.sites and value is None and piece.moment and piece.n_words <= 3:
            self._put_moment(piece.moment, waiting.text)  # "Knie li leicht, währenddessen"
            return
        self._reports_of(piece, rating, piece.text)
        if not piece.sites or piece.is_elsewhere:
            return
        if rating is not None:
            self.last = piece
        elif piece.value is None and not piece.is_negated and not piece.is_free:
            if not piece.is_fine:
                self.waiting = piece
            if piece.is_known and piece.kind is None and piece.severity is None:
                self.bare = piece

    def _put_moment(self, moment: str, evidence: str) -> None:
        self.reports = [
            replace(one, moment=moment) if one.evidence == evidence and one.moment is None else one
            for one in self.reports
        ]

    def _rating_of_site_before(self, piece: Piece, rating: float, waiting: Piece | None, last: Piece | None) -> None:
        """ "left elbow sore, 4/10"; "elbow 2/10 before, 1/10 after"; "coude D 3, G 1"."""
        if not (piece.is_known or piece.is_listed) or piece.value is None or piece.n_words > SMALL:
            return
        if waiting is not None and len(waiting.sites) > 1:
            return  # "elbow hurts more than wrist, 4"
        if waiting is not None and (waiting.kind or (piece.value is not None and piece.value.out_of_ten)):
            side = waiting.side if waiting.side != "unknown" else piece.side
            self.reports = [one for one in self.reports if one.evidence != waiting.text]
            both = replace(waiting, value=piece.value, side=side, moment=waiting.moment or piece.moment)
            self._reports_of(both, rating, f"{waiting.text}, {piece.text}")
            self.last = both
        elif last is not None and (piece.moment or piece.side != "unknown"):
            side = piece.side if piece.side != "unknown" else last.side
            moment = piece.moment or (last.moment if last.is_ahead else None)
            again = replace(last, value=piece.value, side=side, moment=moment)
            self._reports_of(again, rating, piece.text)
            self.last = again

    def _rating(self, piece: Piece) -> float | None:
        """The rating of a piece, if its number is one: out of ten, or bare beside a site or a word for pain."""
        value = piece.value
        if value is None or value.is_odd or value.rating > 10 or piece.is_open:
            return None
        if piece.sites and set(piece.sites) == {"other"} and not (piece.kind or piece.is_known):
            return None  # "legs 7/10 tired"
        if value.out_of_ten:
            return value.rating
        if piece.sites and piece.has_counted and set(piece.sites) <= MUSCLES:
            return None  # "back 2 back 5s"
        if piece.sites:
            return value.rating if piece.is_led and (piece.kind or piece.is_bare or piece.is_close) else None
        return value.rating if piece.is_bare or (piece.is_listed and piece.is_led) else None

    @staticmethod
    def _denies(piece: Piece) -> bool:
        """Both together deny one another: "not pain free"."""
        return (
            piece.severity is None
            and not piece.is_change
            and piece.is_free != (piece.is_negated and piece.kind == "pain")
        )

    def _reports_of(self, piece: Piece, rating: float | None, evidence: str) -> None:
        """The reports of one piece of a remark, for each of its sites."""
        if not piece.sites or piece.is_elsewhere or piece.is_open:
            return
        kind, severity = piece.kind or "pain", piece.severity
        if rating is None and self._denies(piece):
            kind, severity, rating = "pain", None, 0.0
        elif piece.is_other_day:
            return
        elif rating is None:
            if (
                piece.is_negated
                or piece.is_free
                or severity is None
                or (piece.kind is None and not piece.is_word_close)
            ):
                return
        elif rating > 0 and (piece.is_negated or piece.is_free):
            return  # "not more than 4/10", "no longer 4/10": what it is now stays open
        moment = piece.moment or self.early
        for site in piece.sites:
            if kind == "soreness" and site in MUSCLES:
                continue
            self._add(site, piece.side, rating, severity, kind, moment, evidence, piece.value)

    def _add(
        self, site: str, side: str, rating: float | None, severity: str | None, kind: str, moment: str | None,
        evidence: str, value: Value | None,
    ) -> None:  # fmt: skip
        word = None if rating is not None else severity
        is_range = value is not None and (value.is_range or value.is_corrected)
        self.reports.append(PainSaid(site, side, rating, word, kind, moment, evidence, is_range, self.person))
