"""Nesting: parts on boards and sheets, proved from nothing, with a bound that no layout can beat."""
