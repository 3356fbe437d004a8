"""The yarn store and its ledger."""
