//! The stages of a run, one file each, in the order of the flow. A stage takes what it reads from the settled plan and from the stages
//! before it, names what it makes, and knows no text and no check.

pub mod cloth;
pub mod demand;
pub mod fibre;
pub mod garment;
pub mod hours;
pub mod loom;
pub mod print;
pub mod season;
pub mod spinner;
pub mod warp;
pub mod yarn;

use super::given::Given;
use crate::formulas::registry::Mode;

/// The whole chain, numbers only, in one order for every mode.
pub fn run<M: Mode>(given: &Given, mode: &mut M) {
    let fibre = fibre::stage(given, mode);
    let warp_yarn = yarn::stage(given, mode, &yarn::WARP, fibre);
    let weft_yarn = yarn::stage(given, mode, &yarn::WEFT, fibre);
    let cloth = cloth::stage(given, mode, &warp_yarn, &weft_yarn);
    let lay = garment::stage(given, mode, &cloth);
    let quantities = warp::stage(given, mode, &cloth, &warp_yarn, &weft_yarn, &lay);
    let demand = demand::stage(given, mode, &quantities, &warp_yarn);
    season::stage(given, mode);
    let spinner = spinner::stage(given, mode, &warp_yarn, &demand);
    let loom = loom::stage(given, mode, &cloth, &quantities, &warp_yarn);
    warp::survival(given, mode, &quantities, &warp_yarn, &loom);
    let print = print::stage(given, mode, &cloth);
    let seams = lay.seams;
    let work = hours::Work { quantities: &quantities, demand: &demand, spinner: &spinner, seams, print };
    hours::stage(given, mode, &work);
}
