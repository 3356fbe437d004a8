"""A blanket’s board, its log, its gift record, and what can be taken along."""
