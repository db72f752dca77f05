//! The numbers of a garment that the rest of the chain needs, as quantities.

use super::piece::{Cloth, Garment};
use super::stitch;
use crate::units::{Area, Length, M2, MM, Q};

/// Numbers of one garment; `all` marks those of how many were asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measures {
    /// Main cloth in the cut pieces of one.
    pub area: Q<Area>,
    /// Lining in the cut pieces of one.
    pub lining: Q<Area>,
    /// Pieces of main cloth in one.
    pub pieces: u32,
    /// Widest piece of main cloth, across.
    pub widest: Q<Length>,
    /// Longest piece of main cloth, along.
    pub longest: Q<Length>,
    /// Round the neck at the finished edge, without the slit.
    pub neck_opening: Option<Q<Length>>,
    /// Slit for the head; none where the head passes without.
    pub slit: Option<Q<Length>>,
    pub chest: Option<Q<Length>>,
    pub sleeve: Option<Q<Length>>,
    /// Seams sewn, once each, of one.
    pub seams: Q<Length>,
    pub hems: Q<Length>,
    /// Sewing thread for one: least, middle, greatest.
    pub thread: (Q<Length>, Q<Length>, Q<Length>),
    pub stitch: Q<Length>,
}

fn length(mm: f64) -> Q<Length> {
    Q::new(mm, &MM)
}

/// Reads them.
pub fn measures(garment: &Garment) -> Measures {
    let area = |cloth: Cloth| -> f64 {
        let those = garment.pieces.iter().filter(|p| p.cloth == cloth);
        those.fold(0.0, |sum, p| sum + p.area() * f64::from(p.how_many))
    };
    let main = || garment.pieces.iter().filter(|p| p.cloth == Cloth::Main);
    let stitching = stitch::count(garment);
    Measures {
        area: Q::new(1e-6 * area(Cloth::Main), &M2),
        lining: Q::new(1e-6 * area(Cloth::Lining), &M2),
        pieces: main().map(|p| p.how_many).sum(),
        widest: length(main().map(|p| p.width()).fold(0.0, f64::max)),
        longest: length(main().map(|p| p.length()).fold(0.0, f64::max)),
        neck_opening: garment.opening.map(|o| length(o.round)),
        slit: garment.opening.filter(|o| o.slit > 0.0).map(|o| length(o.slit)),
        chest: garment.girths.map(|g| length(g.chest)),
        sleeve: garment.girths.map(|g| length(g.sleeve)),
        seams: length(stitching.seams),
        hems: length(stitching.hems),
        thread: stitching.thread(),
        stitch: length(stitch::STITCH),
    }
}
