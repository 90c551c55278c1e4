"""Every sentence that a finding can be, by its kind, and the phrases that stand in several of them."""

from templategen.checks.sentences.phrases import EACH, PHRASES
from templategen.checks.sentences.refit import REFIT
from templategen.checks.sentences.sentence import Sentence
from templategen.checks.sentences.use import USE
from templategen.checks.sentences.wood import WOOD
from templategen.checks.sentences.work import WORK

__all__ = ["EACH", "PHRASES", "SENTENCES", "Sentence"]

SENTENCES: dict[str, Sentence] = {**WOOD, **USE, **WORK, **REFIT}
