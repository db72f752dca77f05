//! Print: what mesh and cloth hold, the picture's size before the wash, ink.

use crate::chain::given::Given;
use crate::chain::keys as id;
use crate::formulas::print as by;
use crate::formulas::registry::Mode;

use super::cloth::Cloth;

/// Is there a print, and everything about it.
#[inline(always)]
pub fn stage<M: Mode>(given: &Given, m: &mut M, cloth: &Cloth<M>) -> bool {
    let Some(wanted) = given.hand(m, &id::PRINT_WIDTH) else { return false };
    let (mesh, thread) = (given.need(m, &id::MESH), given.need(m, &id::MESH_THREAD));
    let opening = by::MESH_OPENING.to(m, &id::MESH_OPENING, (mesh, thread));
    let open = by::MESH_OPEN_AREA.to(m, &id::MESH_OPEN, (opening, thread));
    let factor = given.need(m, &id::MESH_THICKNESS_FACTOR);
    let thickness = by::MESH_THICKNESS.to(m, &id::MESH_THICKNESS, (thread, factor));
    let volume = by::INK_VOLUME.to(m, &id::INK_VOLUME, (open, thickness));
    let of_mesh = by::LINE_OF_MESH.to(m, &id::LINE_OF_MESH, (thread, opening));
    let spacings = given.need(m, &id::LINE_FACTOR);
    let of_cloth = by::LINE_OF_CLOTH.to(m, &id::LINE_OF_CLOTH, (spacings, cloth.spacing_warp, cloth.spacing_weft));
    let line = by::SMALLEST_LINE.to(m, &id::SMALLEST_LINE, (of_mesh, of_cloth));
    let gain = given.need(m, &id::INK_GAIN);
    by::SMALLEST_GAP.to(m, &id::SMALLEST_GAP, (line, gain));
    by::SMALLEST_DOT.to(m, &id::SMALLEST_DOT, (cloth.spacing_warp, cloth.spacing_weft));
    given.hand(m, &id::ARTWORK_LINE);
    let lost = if given.choices.print_before_wash { cloth.shrink_width } else { given.need(m, &id::LATER_SHRINK) };
    let film = by::BEFORE_WASH.to(m, &id::FILM_WIDTH, (wanted, lost));
    let shape = given.need(m, &id::PRINT_SHAPE);
    let area = by::PICTURE_AREA.to(m, &id::PICTURE_AREA, (film, shape));
    let (coverage, density) = (given.need(m, &id::PRINT_COVERAGE), given.need(m, &id::INK_DENSITY));
    let take = given.need(m, &id::CLOTH_TAKE);
    let each = by::INK_MASS.step(m, (volume, area, coverage, density, take));
    let how_many = given.need(m, &id::HOW_MANY);
    by::INK_FOR_ALL.to(m, &id::INK, (how_many, each));
    true
}
