"""Orthographic-projection exercise sheets from a bank of parametric parts."""
