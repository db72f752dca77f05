//! Pieces of a garment from a body: curves, seams, notches, sewing order. [`draft`] turns a [`Wish`] into a [`Garment`];
//! [`measures`] reads the numbers the chain needs from it. Millimetres inside, y down, the warp along y; lengths that cross to
//! other layers are quantities. Knows no cloth width but what it is told, no paper and no plan file.

mod bag;
mod curve;
mod fault;
mod figure;
mod fit;
mod flat;
mod free;
mod make;
mod measures;
mod outline;
mod piece;
pub mod rules;
mod split;
mod steps;
pub mod stitch;
mod stripes;
mod tee;
mod wish;
mod words;

pub use fault::Fault;
pub use figure::Figure;
pub use fit::{Amount, Bound, Fit};
pub use measures::{Measures, measures};
pub use piece::{
    Cloth, Edge, EdgeRef, Finish, Garment, Girths, Hem, Mark, MarkKind, Notch, OnStripes, Opening, Piece, PrintPlace,
    Reason, Seam, Use,
};
pub use split::{on_cloth, on_striped_cloth};
pub use steps::{Picture, Shown, Side, Step};
pub use wish::{
    Body, EaseWish, Finished, FreePiece, HandleWish, Kind, NeckStyle, NeckWish, Outline, PrintWish, SeamKind, SewWish,
    SleeveWish, Stripe, Stripes, Wish,
};
pub use words::Say;

/// Greatest share the washed cloth may still be said to shrink.
const RESIDUAL_MOST: f64 = 0.10;
/// Most of one article in one plan.
const HOW_MANY_MOST: u32 = 500;

/// Drafts what is wished for, or says everything that stands against it. Takes under a millisecond; never a part of a
/// garment.
pub fn draft(wish: &Wish) -> Result<Garment, Vec<Fault>> {
    let mut faults = Vec::new();
    if !(0.0..=RESIDUAL_MOST).contains(&wish.residual_shrink.to_si()) {
        let text = format!(
            "{:.1} % of shrinking after the first wash is not believable: 0 to 10 % is",
            100.0 * wish.residual_shrink.to_si()
        );
        faults.push(Fault::new("bad-shrink", &["cloth.later_shrink"], text));
    }
    if !(1..=HOW_MANY_MOST).contains(&wish.how_many) {
        let text = format!("how_many is {}: 1 to {HOW_MANY_MOST} can be planned", wish.how_many);
        faults.push(Fault::new("bad-how-many", &["garment.how_many"], text));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    match wish.kind {
        Kind::TeeShaped => tee::shaped::draft(wish),
        Kind::TeeStraight => tee::straight::draft(wish),
        Kind::Apron => flat::apron(wish),
        Kind::Tote => bag::draft(wish),
        Kind::Towel | Kind::Scarf => flat::strip(wish),
        Kind::Pieces => free::draft(wish),
    }
}
