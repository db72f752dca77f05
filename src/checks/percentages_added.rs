//! Losses were divided, not added.

use super::{Check, Severity};
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Source};

/// The check.
pub static CHECK: Check = Check {
    code: "percentages-added",
    title: "Losses were divided, not added.",
    severity: Severity::Note,
    why: "Adding 8 per cent and 7 per cent to a width gives less than dividing by what each leaves. Where a loom is wide \
          enough by adding and too narrow by dividing, this is most likely how its width was chosen.",
    source: Source { key: "cnch-2016", at: "adding 20 % gives 9.6, not 10" },
    evidence: Evidence::Published,
    about: &["warp.width_in_reed", "loom.weaving_width"],
    margin: |f| {
        let (loom, finished) = (f.si(&id::WEAVING_WIDTH)?, f.si(&id::LAY_WIDTH)?);
        let (shrink, draw_in) = (f.si(&id::SHRINK_WIDTH)?, f.si(&id::DRAW_IN)?);
        let added = finished * (1.0 + shrink + draw_in) + f.si(&id::EDGE_DRAW_IN)?;
        let divided = f.si(&id::WIDTH_IN_REED)?;
        // only speaks where adding would pass and dividing does not
        if added <= loom && divided > loom { Some(loom / divided - 1.0) } else { None }
    },
    say: |f| {
        let (finished, shrink, draw_in) = (f.si(&id::LAY_WIDTH), f.si(&id::SHRINK_WIDTH), f.si(&id::DRAW_IN));
        let added = finished.unwrap_or(0.0) * (1.0 + shrink.unwrap_or(0.0) + draw_in.unwrap_or(0.0)) + f.si(&id::EDGE_DRAW_IN).unwrap_or(0.0);
        format!("Adding the losses gives {}, which would fit; dividing by what they leave gives {}, which is what the cloth needs.", f.quantity(added, &id::WIDTH_IN_REED), f.text(&id::WIDTH_IN_REED))
    },
    knobs: &[],
};
