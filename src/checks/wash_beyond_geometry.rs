//! The wash shrinks cloth, not yarn.

use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "wash-beyond-geometry",
    title: "The wash shrinks cloth, not yarn.",
    severity: Severity::Note,
    why: "Cloth shrinks first by bending its threads more. Where the shrinkage stated would need far more bending than the \
          threads have height for, the yarn itself shrinks or swells: wash a skein as well as a swatch, and count metres \
          after that.",
    source: Source { key: "peirce-1937", at: "h1 + h2 = D, against the crimp if no yarn shrank" },
    evidence: Evidence::Derived,
    about: &["cloth.wash_height", "cloth.shrink_width", "cloth.shrink_length"],
    margin: |f| if f.wool { None } else { Some(1.35 / f.si(&id::WASH_HEIGHT)? - 1.0) },
    say: |f| format!("Shrinking {} in width and {} in length would need {} times the bending there is: part of it must be the yarn itself. Wash a skein too.", f.text(&id::SHRINK_WIDTH), f.text(&id::SHRINK_LENGTH), f.text(&id::WASH_HEIGHT)),
    knobs: &[],
};
