//! The text forms of a quantity, as a person types them in a plan or a log entry.
