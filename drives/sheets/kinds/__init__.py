"""The kinds of documents, one file for each."""
