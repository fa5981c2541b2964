"""A message is English text that remembers its sentence."""

from __future__ import annotations

import copy
import pickle

import pytest

from qbank.messages import Message, say


def test_a_message_is_the_text_and_knows_its_sentence() -> None:
    said = say("Divide by {number}.", number="3")
    assert said == "Divide by 3."
    assert (said.sentence, said.pieces) == ("Divide by {number}.", (("number", "3"),))


def test_a_gap_left_open_is_an_error() -> None:
    with pytest.raises(KeyError, match="number"):
        say("Divide by {number}.")


def test_it_goes_to_another_process_whole() -> None:
    inner = say("the angle")
    said = say("Half of {what}.", what=inner)
    for other in (pickle.loads(pickle.dumps(said)), copy.deepcopy(said)):
        assert other == said
        assert other.sentence == said.sentence
        assert other.pieces == said.pieces
        piece = other.pieces[0][1]
        assert isinstance(piece, Message)
        assert piece.sentence == "the angle"
