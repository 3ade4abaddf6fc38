"""Remarks on sheets with days, weeks or people across: whose they are, and what they say of pain."""

import re
from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from preflare.reading.crosswise_blocks import Above
from preflare.reading.crosswise_days import day_of, monday_of_mark
from preflare.reading.crosswise_sorting import Labels, Line, RowSorter
from preflare.reading.names_in_remarks import by_person, meant
from preflare.reading.ratings import Answer, pain_in_notes
from preflare.reading.rows import SessionRow
from preflare.reading.tables import Column
from preflare.reading.text import as_text
from preflare.reading.workbook import cell_at

_WHOSE, _NAME_IT = "it is not known whose remark this is", 'write the name before it, such as "Ada: left elbow 3"'
_NAMED = re.compile(r"^\s*([^\W\d][\w.'’-]*(?:\s+[^\W\d][\w.'’-]*){0,2})\s*[:–-]\s*(.+)$", re.S)
_SENTENCES = re.compile(r"(?<=[.;!])\s+|\n+")


class RemarksReader(RowSorter):
    """Reads the remarks of one block."""

    def _day(self, above: Above, at: Labels) -> date | None:
        """The day of a cell: above it, at its left, or a week of one and a weekday of the other."""
        context = self.context
        if above.day is not None:
            return day_of(context, above.day)
        week = monday_of_mark(context, above.week) if above.week is not None else at.week
        weekday = above.weekday or at.weekday
        if week is not None and weekday is not None:
            return date.fromordinal(week.toordinal() + weekday - 1)
        return at.day or (week if above.week is not None else None)

    def _remark(self, row: int, column: Column, text: str, answer: Answer) -> None:
        """A remark under one person, save where it names another of those across, or reaches over several of them."""
        people = [group.above.person for group in self.block.groups if group.above.person]
        if len(set(people)) < 2:
            self._keep_remark(row, column, text, answer)
            return
        is_for_all = self._is_over_several(row, column, text)
        if is_for_all and column.index != next(at for at in self._columns_of_people() if self._is_same(row, at, text)):
            return  # the same cell, read with the first of those whom it reaches over
        for one in by_person(text, people):
            if one.is_open or (one.person is None and is_for_all):
                self._leave_open(row, column, one.text, answer)
            else:
                self._keep_remark(row, column, one.text, replace(answer, athlete=one.person or answer.athlete))

    def _keep_remark(self, row: int, column: Column, text: str, answer: Answer) -> None:
        context, out = self.context, self.context.out
        out.pain += pain_in_notes(context, row, column.index, text, answer)
        place = context.place(row, column.index)
        out.sessions.append(SessionRow(answer.athlete, answer.day, 1, None, None, None, text, place))

    def _leave_open(self, row: int, column: Column, text: str, answer: Answer) -> None:
        """Set pain aside of which it is not known whose it is."""
        if pain_in_notes(self.context, row, column.index, text, answer):
            self.context.reject_cell(row, column.index, text, _WHOSE, _NAME_IT)

    def _columns_of_people(self) -> Iterable[int]:
        return (column.index for group in self.block.groups for column in group.columns)

    def _is_same(self, row: int, at: int, text: str) -> bool:
        return as_text(cell_at(self.context.sheet, row, at)) == text

    def _is_over_several(self, row: int, column: Column, text: str) -> bool:
        """Whether a merged cell reaches over the columns of more than one person."""
        merged = self.context.sheet.merged
        over = {
            group.above.person
            for group in self.block.groups
            for one in group.columns
            if self._is_same(row, one.index, text) and ((row, one.index) in merged or (row, one.index + 1) in merged)
        }
        return len(over) > 1

    def _remarks_for_all(self, line: Line) -> None:
        """A column of remarks beside several people: "Ada: left elbow 3" is Ada's."""
        context = self.context
        people = {group.above.person for group in self.block.groups} - {None}
        for column in self.block.common:
            cell = context.cell(line.row, column.index)
            if column.role != "note" or not isinstance(cell, str):
                continue
            day = self._day(Above(), line.at)
            for sentence in _SENTENCES.split(cell):
                named = _NAMED.match(sentence)
                person = meant(named[1], people) if named else None
                if person is None and not people:
                    person = line.at.person or context.person
                text = named[2] if named and person and people else sentence
                answer = Answer(person or "", day or context.today, None, False)
                pain = pain_in_notes(context, line.row, column.index, text, answer)
                if pain and (person is None or day is None):
                    context.reject_cell(line.row, column.index, sentence, _WHOSE, _NAME_IT)
                elif day is not None and person is not None:
                    context.out.pain += pain
                    place = context.place(line.row, column.index)
                    context.out.sessions.append(SessionRow(person, day, 1, None, None, None, text, place))
