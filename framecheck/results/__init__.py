"""What the checks found, typed: rows, the ledger of all that can fail, one verdict, and the tables that people read."""
