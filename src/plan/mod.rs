//! The plan file: text and files in, a typed plan and diagnostics out; edits that keep comments.
