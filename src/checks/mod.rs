//! One file a check: margin, words, knobs; mends solved through the chain.
