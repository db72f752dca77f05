//! Print: what mesh and cloth hold, the picture's size before the wash, ink.

use crate::chain::given::Given;
use crate::chain::keys as id;
use crate::formulas::print as by;
use crate::formulas::registry::{Mode, V};
use crate::print::Method;
use crate::units::{AreaVolume, Length};

use super::cloth::Cloth;

/// Is there a print, and everything about it.
#[inline(always)]
pub fn stage<M: Mode>(given: &Given, m: &mut M, cloth: &Cloth<M>) -> bool {
    let Some(wanted) = given.hand(m, &id::PRINT_WIDTH) else { return false };
    let (volume, tool) = if given.choices.print_method == Method::Screen {
        screen(given, m)
    } else {
        (given.need(m, &id::INK_LAID), given.need(m, &id::LINE_OF_TOOL))
    };
    limits(given, m, cloth, tool);
    for (share, line) in [(&id::PRINT_DETAIL, &id::ARTWORK_LINE), (&id::PRINT_GAP_DETAIL, &id::ARTWORK_GAP)] {
        if let Some(share) = given.hand(m, share) {
            by::ARTWORK_LINE.to(m, line, (share, wanted));
        }
    }
    let shape = given.need(m, &id::PRINT_SHAPE);
    let high = by::PICTURE_HEIGHT.to(m, &id::PRINT_HEIGHT, (wanted, shape));
    let (across, along) = if given.choices.print_before_wash {
        (cloth.shrink_width, cloth.shrink_length)
    } else {
        let later = given.need(m, &id::LATER_SHRINK);
        (later, later)
    };
    let film = by::BEFORE_WASH.to(m, &id::FILM_WIDTH, (wanted, across));
    let film_height = by::BEFORE_WASH.to(m, &id::FILM_HEIGHT, (high, along));
    let area = by::PICTURE_AREA.to(m, &id::PICTURE_AREA, (film, film_height));
    let (coverage, density) = (given.need(m, &id::PRINT_COVERAGE), given.need(m, &id::INK_DENSITY));
    let take = given.need(m, &id::CLOTH_TAKE);
    let each = by::INK_MASS.step(m, (volume, area, coverage, density, take));
    let how_many = given.need(m, &id::HOW_MANY);
    by::INK_FOR_ALL.to(m, &id::INK, (how_many, each));
    true
}

/// The screen: the ink it lays and its finest line.
#[inline(always)]
fn screen<M: Mode>(given: &Given, m: &mut M) -> (V<AreaVolume, M>, V<Length, M>) {
    let (mesh, thread) = (given.need(m, &id::MESH), given.need(m, &id::MESH_THREAD));
    let opening = by::MESH_OPENING.to(m, &id::MESH_OPENING, (mesh, thread));
    let open = by::MESH_OPEN_AREA.to(m, &id::MESH_OPEN, (opening, thread));
    let factor = given.need(m, &id::MESH_THICKNESS_FACTOR);
    let thickness = by::MESH_THICKNESS.to(m, &id::MESH_THICKNESS, (thread, factor));
    let volume = by::INK_VOLUME.to(m, &id::INK_VOLUME, (open, thickness));
    (volume, by::LINE_OF_MESH.to(m, &id::LINE_OF_MESH, (thread, opening)))
}

/// Finest line, gap and dot of cloth and of screen, stencil or block.
#[inline(always)]
fn limits<M: Mode>(given: &Given, m: &mut M, cloth: &Cloth<M>, tool: V<Length, M>) {
    let spacings = given.need(m, &id::LINE_FACTOR);
    let of_cloth = by::LINE_OF_CLOTH.to(m, &id::LINE_OF_CLOTH, (spacings, cloth.spacing_warp, cloth.spacing_weft));
    let line = by::SMALLEST_LINE.to(m, &id::SMALLEST_LINE, (tool, of_cloth));
    let gain = given.need(m, &id::INK_GAIN);
    if given.choices.print_method == Method::Screen {
        by::SMALLEST_GAP.to(m, &id::SMALLEST_GAP, (line, gain));
    } else {
        let gap = by::SMALLEST_GAP.step(m, (line, gain));
        let wall = given.need(m, &id::GAP_OF_TOOL);
        by::SMALLEST_LINE.to(m, &id::SMALLEST_GAP, (wall, gap));
    }
    let dots = given.need(m, &id::DOT_FACTOR);
    by::SMALLEST_DOT.to(m, &id::SMALLEST_DOT, (dots, cloth.spacing_warp, cloth.spacing_weft));
}
