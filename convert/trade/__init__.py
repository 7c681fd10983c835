"""The knowledge of the trade: tables in `shared/`, read strictly into frozen records."""
