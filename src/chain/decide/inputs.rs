//! From plan keys to ids: which key states which input, and what stands in where nothing is stated. The one table from which the chain
//! knows what a person said, an explanation knows where to change it, and a mend knows what to write.

use crate::chain::assumed::Assumption;
use crate::chain::given::Given;
use crate::chain::keys as id;
use crate::formulas::registry::{Evidence, Key, Source};
use crate::plan::Plan;
use crate::units::text::Stated;
use crate::units::{Dimension, Q};
use std::collections::BTreeMap;

/// How a value came to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// Stated in the plan.
    Given,
    /// Taken for granted until measured.
    Assumed,
    /// Decided by the program from what is stated.
    Decided,
    /// Computed.
    Computed,
    /// From the person's own log.
    Measured,
}

impl How {
    /// The word in the JSON and on the page.
    pub fn word(self) -> &'static str {
        match self {
            How::Given => "given",
            How::Assumed => "assumed",
            How::Decided => "decided",
            How::Computed => "computed",
            How::Measured => "measured",
        }
    }
}

/// An input of the chain and its doubt, in SI: `low` and `high` are its 10 % and 90 % points.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    pub slot: u16,
    pub how: How,
    pub middle: f64,
    pub low: f64,
    pub high: f64,
    /// Who says so, for what is assumed.
    pub source: Option<(Source, Evidence)>,
    /// The plan key that states it, for what is given.
    pub path: Option<&'static str>,
}

impl Input {
    /// Whether trials shake it.
    pub fn is_doubted(&self) -> bool {
        self.low < self.high
    }
}

/// Gathers inputs: the first that speaks for an id is kept.
#[derive(Default)]
pub struct Inputs {
    pub given: Given,
    pub all: BTreeMap<u16, Input>,
}

impl Inputs {
    /// What the plan states at `path`, where it states it.
    pub fn state<D: Dimension>(&mut self, plan: &Plan, key: &Key<D>, path: &'static str) -> bool {
        match plan.quantity::<D>(path) {
            Some(stated) => self.put(key, stated, path),
            None => false,
        }
    }
    /// A stated quantity.
    pub fn put<D>(&mut self, key: &Key<D>, stated: Stated<D>, path: &'static str) -> bool {
        let (middle, low, high) = (stated.middle.to_si(), stated.low.to_si(), stated.high.to_si());
        self.insert(Input { slot: key.slot, how: How::Given, middle, low, high, source: None, path: Some(path) })
    }
    /// A quantity stated without doubt, or one that follows from what is stated.
    pub fn exact<D>(&mut self, key: &Key<D>, value: Q<D>, how: How, path: Option<&'static str>) -> bool {
        let si = value.to_si();
        self.insert(Input { slot: key.slot, how, middle: si, low: si, high: si, source: None, path })
    }
    /// What is assumed where nothing is stated.
    pub fn assume(&mut self, assumption: &Assumption) -> bool {
        let Assumption { slot, middle, low, high, source, evidence } = *assumption;
        self.insert(Input { slot, how: How::Assumed, middle, low, high, source: Some((source, evidence)), path: None })
    }
    /// What the log says, over what the plan states or the trade assumes.
    pub fn measure(&mut self, slot: u16, middle: f64, low: f64, high: f64) {
        let path = self.all.get(&slot).and_then(|input| input.path);
        self.all.insert(slot, Input { slot, how: How::Measured, middle, low, high, source: None, path });
        self.given.set_si(slot, middle);
    }
    fn insert(&mut self, input: Input) -> bool {
        if self.all.contains_key(&input.slot) {
            return false;
        }
        self.given.set_si(input.slot, input.middle);
        self.all.insert(input.slot, input);
        true
    }
    /// Whether an id has a value.
    pub fn has<D>(&self, key: &Key<D>) -> bool {
        self.all.contains_key(&key.slot)
    }
}

macro_rules! stated {
    ($($key:ident $path:literal;)*) => {
        /// Plan keys that state an input as it is.
        pub static PATHS: &[(u16, &str)] = &[$((id::$key.slot, $path)),*];
        fn plain(inputs: &mut Inputs, plan: &Plan) {
            $(inputs.state(plan, &id::$key, $path);)*
        }
    };
}
stated! {
    FIBRE_LENGTH "fibre.length";
    FIBRE_TENACITY "fibre.tenacity";
    SPINNING_KEEPS "fibre.losses.spinning_keeps";
    FINISHING_KEEPS "fibre.losses.finishing_keeps";
    BOLLS "fibre.yield.bolls_per_plant";
    BOLL_MASS "fibre.yield.boll_mass";
    GERMINATION "fibre.yield.germination";
    PLANT_SPACING "fibre.yield.spacing";
    ROW_SPACING "fibre.yield.row_spacing";
    FLEECE_MASS "fibre.yield.fleece";
    STRAW_PER_AREA "fibre.yield.straw";
    WARP_EXTRA "warp.sample";
    SPARE "warp.spare";
    REPAIR "warp.repair";
    TURN "warp.turn";
    TENSION_STATED "warp.tension";
    SETT_IN_REED "cloth.sett";
    RELAX "cloth.relax";
    SHRINK_WIDTH "cloth.shrink.width";
    SHRINK_LENGTH "cloth.shrink.length";
    LATER_SHRINK "cloth.later_shrink";
    EDGE_DRAW_IN "cloth.edge_draw_in";
    CRIMP_SHARE "cloth.crimp_share";
    WEFT_SLACK "cloth.weft_slack";
    STRENGTH_CV "yarn.warp.strength_spread";
    PACE "spinner.pace";
    STROKE "spinner.stroke";
    HAND_PULL "spinner.pull";
    MOTOR_RATED "spinner.motor.rated";
    NO_LOAD "spinner.motor.no_load";
    NO_LOAD_CURRENT "spinner.motor.no_load_current";
    RESISTANCE "spinner.motor.resistance";
    SUPPLY_VOLTAGE "spinner.supply.voltage";
    SUPPLY_LIMIT "spinner.supply.current";
    DRIVER_LIMIT "spinner.driver.limit";
    DRIVER_DROP "spinner.driver.drop";
    BEARINGS "spinner.drag";
    MOTOR_PULLEY "spinner.pulleys.motor";
    SPINDLE_PULLEY "spinner.pulleys.spindle";
    CENTRES "spinner.pulleys.centres";
    BELT_THICKNESS "spinner.pulleys.belt";
    SLIP "spinner.pulleys.slip";
    BELT_TENSION "spinner.pulleys.tension";
    BOBBIN_CORE "spinner.bobbin.core";
    BOBBIN_FLANGE "spinner.bobbin.flange";
    BOBBIN_WIDTH "spinner.bobbin.width";
    PACKAGE_DENSITY "spinner.bobbin.density";
    SAFE_SPEED "spinner.flyer.safe_speed";
    WEAVING_WIDTH "loom.weaving_width";
    HEDDLE_SETT "loom.heddle.sett";
    BLADE "loom.heddle.blade";
    GAP "loom.heddle.gap";
    EYE "loom.heddle.eye";
    SLOT_HEIGHT "loom.heddle.slot_height";
    FELL_TO_HEDDLE "loom.depth.fell_to_heddle";
    HEDDLE_TO_BACK "loom.depth.heddle_to_back";
    LIFT "loom.shed.lift";
    SHUTTLE_HEIGHT "loom.shuttle.height";
    SHUTTLE_WIDTH "loom.shuttle.width";
    WASTE_FRONT "loom.waste.front";
    WASTE_BACK "loom.waste.back";
    BEAM_DIAMETER "loom.beam.diameter";
    BEAM_SPAN "loom.beam.span";
    TOOTH_CIRCLE "loom.ratchet.diameter";
    PRINT_WIDTH "print.width";
    MESH "print.mesh.count";
    MESH_THREAD "print.mesh.thread";
    HEAT_NEEDED "season.need";
    STOPS "pace.stops";
    HOURS_A_WEEK "hours.per_week";
    SPINNING_PACE "pace.spinning";
    PLYING_PACE "pace.plying";
    SKEINING_PACE "pace.winding";
    WINDING_PACE "pace.warping";
    THREADING_PACE "pace.threading";
    PICKING_PACE "pace.weaving";
    SEWING_PACE "pace.sewing";
    PRINTING_PACE "pace.printing";
}

/// Plan keys that state an input after a word or a rule; with [`PATHS`], where each id can be changed.
static BY_RULE: &[(u16, &str)] = &[
    (id::MICRONAIRE.slot, "fibre.fineness"),
    (id::FIBRE_DIAMETER.slot, "fibre.fineness"),
    (id::FIBRE_FINENESS.slot, "fibre.fineness"),
    (id::WARP_COUNT.slot, "yarn.warp.count"),
    (id::WEFT_COUNT.slot, "yarn.weft.count"),
    (id::WARP_PLIES.slot, "yarn.warp.plies"),
    (id::WEFT_PLIES.slot, "yarn.weft.plies"),
    (id::WARP_MULTIPLIER.slot, "yarn.warp.twist"),
    (id::WEFT_MULTIPLIER.slot, "yarn.weft.twist"),
    (id::WARP_TWIST.slot, "yarn.warp.twist"),
    (id::WEFT_TWIST.slot, "yarn.weft.twist"),
    (id::WARP_PLY_TWIST.slot, "yarn.warp.ply_twist"),
    (id::WEFT_PLY_TWIST.slot, "yarn.weft.ply_twist"),
    (id::WARP_PACKING.slot, "yarn.warp.preparation"),
    (id::WEFT_PACKING.slot, "yarn.weft.preparation"),
    (id::FIRMNESS.slot, "cloth.firmness"),
    (id::MASS_WISHED.slot, "cloth.mass"),
    (id::PICKS_OFF_LOOM.slot, "cloth.picks"),
    (id::PICKS_ON_LOOM.slot, "cloth.picks.on_loom"),
    (id::LAY_WIDTH.slot, "cloth.width"),
    (id::HOW_MANY.slot, "garment.how_many"),
    (id::HEAD.slot, "garment.body.head"),
    (id::CHEST.slot, "garment.body.chest"),
    (id::CHEST_EASE.slot, "garment.ease.chest"),
    (id::HEDDLES.slot, "loom.heddle.heddles"),
    (id::TEETH.slot, "loom.ratchet.teeth"),
    (id::PAWLS.slot, "loom.ratchet.pawls"),
    (id::BEAM_E.slot, "loom.beam.material"),
    (id::BEAM_STRENGTH.slot, "loom.beam.material"),
    (id::BEAM_BORE.slot, "loom.beam.wall"),
    (id::WHORL_RATIO.slot, "spinner.pulleys.bobbin"),
    (id::PRINT_SHAPE.slot, "print.height"),
    (id::PRINT_DETAIL.slot, "print.finest_line"),
    (id::HEAT_UNITS.slot, "season.temperatures"),
];

/// The plan key that states an id, where one does.
pub fn path_of(slot: u16) -> Option<&'static str> {
    PATHS.iter().chain(BY_RULE).find(|(at, _)| *at == slot).map(|(_, path)| *path)
}

/// Everything a plan states as it is.
pub fn stated(plan: &Plan) -> Inputs {
    let mut inputs = Inputs::default();
    plain(&mut inputs, plan);
    inputs
}
