//! Diagnostics: one type for a syntax, unit or engineering fault: where, what was given, what is accepted, the near name.
