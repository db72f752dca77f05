//! Garment and lay: what the drafted pieces are as numbers. The shapes themselves were made when the plan was decided.

use crate::chain::given::Given;
use crate::chain::keys as id;
use crate::formulas::garment as by;
use crate::formulas::registry::{Mode, V};
use crate::units::*;

use super::cloth::Cloth;

/// What later stages read of garment and lay.
pub struct Lay<M: Mode> {
    pub width: V<Length, M>,
    pub length: V<Length, M>,
    pub how_many: V<Number, M>,
    pub seams: V<Length, M>,
}

/// Openings, girths, thread and mass of the articles, and the lay.
#[inline(always)]
pub fn stage<M: Mode>(given: &Given, m: &mut M, cloth: &Cloth<M>) -> Lay<M> {
    if let (Some(head), Some(ease), Some(opening)) =
        (given.hand(m, &id::HEAD), given.hand(m, &id::HEAD_EASE), given.hand(m, &id::NECK_OPENING))
    {
        by::HEAD_NEEDS.to(m, &id::HEAD_NEEDS, (head, ease));
        if head.si() + ease.si() > opening.si() {
            by::SLIT.to(m, &id::SLIT, (head, ease, opening));
        }
    }
    if let (Some(chest), Some(ease)) = (given.hand(m, &id::CHEST), given.hand(m, &id::CHEST_EASE)) {
        by::GIRTH.to(m, &id::GARMENT_CHEST, (chest, ease));
    }
    given.hand(m, &id::SLIT_MADE);
    given.hand(m, &id::SLEEVE_MISMATCH);
    given.hand(m, &id::WIDEST_PIECE);
    given.hand(m, &id::MATCH_EXTRA);
    given.hand(m, &id::LEAST_FIRMNESS);
    given.hand(m, &id::LEAST_MASS);
    given.hand(m, &id::GREATEST_MASS);
    let area = given.need(m, &id::GARMENT_AREA);
    by::MASS_WORN.to(m, &id::GARMENT_MASS, (area, cloth.mass));
    let (seams, ratio) = (given.need(m, &id::SEAM_LENGTH), given.need(m, &id::THREAD_RATIO));
    by::THREAD.to(m, &id::THREAD, (seams, ratio));
    let (width, length) = (given.need(m, &id::LAY_WIDTH), given.need(m, &id::LAY_LENGTH));
    by::LAY_USED.to(m, &id::LAY_USED, (area, width, length));
    Lay { width, length, seams, how_many: given.need(m, &id::HOW_MANY) }
}
