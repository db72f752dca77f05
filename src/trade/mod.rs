//! Tables of the trade: fibres, timbers, twist, losses, each row with its source.

pub mod body;
pub mod stock;
pub mod timber;
pub mod wire;
