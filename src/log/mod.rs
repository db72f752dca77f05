//! The bench log: SQLite beside the plan, and nothing else.
