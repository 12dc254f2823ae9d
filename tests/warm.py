"""Imported once by the process that all services of a test run are forked from: they start in a moment, warm."""

from contextlib import suppress

import knowledge
import service.web.server  # noqa: F401
from service.consultation import Turn
from service.desk import consult

with suppress(knowledge.KnowledgeFaults):  # a service that starts will say what is wrong
    consult([Turn(text="hello")], knowledge.shipped(), None)
