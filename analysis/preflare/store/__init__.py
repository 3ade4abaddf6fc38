"""The store: DuckDB, provenance, atomic import. Comes after reading, before exposures."""

from preflare.store.importing import Difference, ImportSummary
from preflare.store.queries import Column, Query
from preflare.store.season_file import DefinitionChange, Definitions
from preflare.store.store import Store

__all__ = ["Column", "DefinitionChange", "Definitions", "Difference", "ImportSummary", "Query", "Store"]
