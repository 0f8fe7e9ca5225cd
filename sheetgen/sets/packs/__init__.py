"""Packs: folders for practice, with pages that a browser shows."""
