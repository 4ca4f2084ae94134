"""Works out, records and labels solutions mixed from raw chemicals."""

__version__ = "0.2.0"
