"""The program's version, where every folder can ask for it."""

__version__ = "0.1.0"
