//! Why something cannot be drafted, with the numbers and the keys of the plan to change.

use std::fmt;

/// One reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Stable name, in kebab case.
    pub code: &'static str,
    /// One or two sentences with the numbers and the way out.
    pub text: String,
    /// Keys of the plan it is about, the nearest first.
    pub keys: Vec<String>,
}

impl Fault {
    pub(super) fn new(code: &'static str, keys: &[&str], text: impl Into<String>) -> Fault {
        Fault { code, text: text.into(), keys: keys.iter().map(|k| k.to_string()).collect() }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}
