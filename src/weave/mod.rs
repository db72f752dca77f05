//! Weaves, drafts, drawdowns, WIF text, and which thread goes where. Knows no yarn quality and no drawing.
