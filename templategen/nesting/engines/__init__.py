"""Engines: ways of laying parts on stock, all behind one protocol."""
