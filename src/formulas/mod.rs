//! The registry of published formulas and the typed calls through which the chain uses them.
