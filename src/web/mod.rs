//! The workbench: the only layer that knows HTTP.
