"""The record pages a scanned code opens."""
