"""The law on classification and labelling, written as code."""
