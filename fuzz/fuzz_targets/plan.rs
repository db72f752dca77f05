//! Any bytes are a plan or are told why not.
#![no_main]

use clothwright::diag::{self, Look};
use clothwright::plan::{self, Files, edit};

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    let text = String::from_utf8_lossy(bytes);
    let (plan, found) = plan::read(&text, &Files::default());
    assert_eq!(plan.is_none(), diag::any_error(&found));
    let _ = diag::render(&found, &text, "plan.toml", Look::Plain);
    let _ = diag::json(&found, &text);
    let _ = edit::set(&text, "cloth.firmness", "72 %");
    let _ = edit::remove(&text, "garment.body.chest");
});
