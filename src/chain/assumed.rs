//! What the chain takes for granted until somebody measures it: a middle, a usual range, and where it stands. Facts that belong to the
//! fibre are in `trade::fibres`, those of timber in `trade::timber`; these are the rest. A plan or a log replaces any of them.

use super::keys::{self as id, ALL};
use crate::formulas::registry::{Evidence, Key, Source};
use crate::trade::Fact;

/// A number assumed for an id, in SI; `low` and `high` are its 10 % and 90 % points.
#[derive(Clone, Copy, Debug)]
pub struct Assumption {
    pub slot: u16,
    pub middle: f64,
    pub low: f64,
    pub high: f64,
    pub source: Source,
    pub evidence: Evidence,
}

impl Assumption {
    /// A trade fact taken for an id. An inverse unit turns low and high round.
    pub fn of<D>(key: &Key<D>, fact: &Fact<D>) -> Self {
        let si = |value| fact.unit.to_si(value);
        let (low, high) = (si(fact.low).min(si(fact.high)), si(fact.low).max(si(fact.high)));
        Assumption { slot: key.slot, middle: si(fact.middle), low, high, source: fact.source, evidence: fact.evidence }
    }
}

/// Numbers in the unit their id is printed in.
struct Row {
    slot: u16,
    middle: f64,
    low: f64,
    high: f64,
    evidence: Evidence,
    key: &'static str,
    at: &'static str,
}

macro_rules! rows {
    ($($key:ident $middle:literal ($low:literal..$high:literal) $evidence:ident $source:literal $at:literal;)*) => {
        fn rows() -> Vec<Row> {
            vec![$(Row {
                slot: id::$key.slot, middle: $middle, low: $low, high: $high, evidence: Evidence::$evidence, key: $source, at: $at,
            }),*]
        }
    };
}

rows! {
    PRACTICAL_CONTRACTION 0.6 (0.5..0.7) Derived "best-filter" "2 to 3 % found against 4.6 % of the ideal helix";
    MIGRATION 10.0 (5.0..20.0) Practice "practice" "a few times the turn of the yarn; hearle-1969 leaves it to be measured";
    FIBRE_FRICTION 0.3 (0.2..0.4) Practice "practice" "fibre on fibre";
    USUAL_ANGLE 25.0 (25.0..25.0) Derived "klein-manual" "warp multiplier 4.15 at Peirce's diameter";
    COUNT_MISS 8.0 (8.0..8.0) Practice "practice" "a practised hand keeps the mean of a batch within a tenth or so; a card at the wheel helps";
    STRENGTH_CV 22.0 (18.0..25.0) Practice "practice" "hand-spun; a mill's singles 7 to 10 by hpttf Table 7.3";
    BALANCE 0.667 (0.6..0.8) Published "bellwether-2008" "two thirds; 0.6 to 0.8 in practice";
    PLY_CONTRACTION 2.0 (-1.0..4.0) Practice "practice" "plying the other way first lengthens, then shortens";
    GAUGE 50.0 (50.0..50.0) Identity "identity" "gauge of the break load";
    RETAINED 0.65 (0.6..0.7) Practice "practice" "rubbing in heddle and reed";
    CRIMP_SHARE 0.5 (0.42..0.58) Derived "peirce-1937" "even shares where warp and weft are alike and tension is low";
    WEFT_SLACK 0.0 (0.0..0.0) Practice "practice" "a straight pick; an angle lays in 2 to 6 %";
    EDGE_DRAW_IN 6.0 (3.0..15.0) Practice "practice" "diaries: the percentage falls with the width, so part of it is fixed";
    RELAX 4.0 (1.0..13.0) Practice "practice" "diaries: 1 to 13 % from loom to off the loom";
    LOFT 1.0 (0.9..1.3) Practice "practice" "hand and wash against round threads lying close";
    TAYLOR_K 3.0 (3.0..3.0) Published "taylor-1909" "pp. 427-429, medium cloth";
    HEAD_EASE 2.0 (2.0..2.0) Memory "drafting-texts" "20 mm over the head";
    THREAD_RATIO 2.65 (2.5..2.8) Published "melgeecrafts" "2.5; textbooks to 2.8";
    WARP_EXTRA 25.0 (20.0..40.0) Practice "practice" "header, a sample to wash, cuts";
    WASTE_FRONT 18.0 (15.0..25.0) Practice "practice" "tie-on; diaries give 17 to 36 in. for both ends";
    WASTE_BACK 35.0 (28.0..50.0) Practice "practice" "what no shed reaches; diaries give 17 to 36 in. for both ends";
    TENSION_PER_TEX 0.5 (0.35..0.8) Practice "practice" "no published hand-loom tension";
    TENSION_LIMIT 6.0 (4.0..8.0) Practice "practice" "no published hand-loom tension";
    TURN 10.0 (6.0..16.0) Practice "practice" "the turn at the edge";
    SPARE 8.0 (5.0..12.0) Practice "practice" "knots, breaks and leftovers";
    REPAIR 15.0 (15.0..15.0) Practice "practice" "a skein kept with the garment";
    BOLLS 15.0 (6.0..25.0) Practice "practice" "15 to 30 good, under 10 stressed, diaries 12 to 31";
    BOLL_MASS 4.5 (3.0..5.5) Published "msu-bolls" "seed cotton, 2 to 5 g";
    GERMINATION 70.0 (50.0..85.0) Practice "practice" "home-saved seed";
    PLANT_SPACING 30.0 (15.0..45.0) Practice "practice" "6 to 18 in.";
    ROW_SPACING 75.0 (50.0..100.0) Published "msu-bolls" "rows of 20 to 40 in.";
    STRAW_PER_AREA 450.0 (300.0..600.0) Practice "practice" "one measured plot: 25 kg dry, rippled, from 56 m2";
    FLEECE_MASS 3.0 (1.8..5.0) Published "asi-breeds" "3 to 14 lb by breed";
    HEAT_NEEDED 1750.0 (1650.0..1850.0) Published "jones-2011" "first open boll, heat units from planting";
    WINDING_TEMPERATURE 71.0 (50.0..100.0) Practice "practice" "a fifth more resistance than cold";
    DRIVER_DROP 0.5 (0.1..2.0) Practice "practice" "a transistor 0.1 V, a two-transistor bridge 0.7 to 2 V";
    CENTRES 170.0 (170.0..170.0) Practice "practice" "a usual distance of shafts";
    BELT_THICKNESS 2.0 (2.0..2.0) Practice "practice" "a thin round belt";
    SLIP 2.0 (1.0..4.0) Practice "practice" "a belt that is not slack";
    BELT_EFFICIENCY 90.0 (82.0..95.0) Practice "practice" "round belt on small pulleys";
    BELT_FRICTION 0.6 (0.4..0.9) Derived "round-belt-note" "0.3 on steel, wedged in a V of 60 degrees";
    BELT_TENSION 8.0 (5.0..12.0) Practice "practice" "a 2 mm urethane belt at 8 to 10 % stretch";
    BOBBIN_CORE 22.0 (22.0..22.0) Practice "practice" "a usual bobbin";
    BOBBIN_FLANGE 68.0 (68.0..68.0) Practice "practice" "a usual bobbin";
    BOBBIN_WIDTH 80.0 (80.0..80.0) Practice "practice" "a usual bobbin";
    FILL_SHARE 92.0 (88.0..96.0) Practice "practice" "leave a rim, or the yarn falls over it";
    PACKAGE_DENSITY 0.35 (0.25..0.42) Derived "textilecalculation" "2015/07 soft packages 0.35 to 0.45; hand-wound lie looser";
    PACE 2.0 (1.2..3.0) Practice "practice" "diaries: 90 to 330 m an hour";
    STROKE 70.0 (50.0..90.0) Practice "practice" "an arm's draw";
    HAND_PULL 22.0 (15.0..35.0) Practice "practice" "well under a tenth of what breaks the yarn";
    HOOK_FRICTION 0.25 (0.2..0.3) Practice "practice" "cotton on smooth wire";
    HOOK_WRAP 180.0 (120.0..240.0) Practice "practice" "two bends of a right angle";
    BEARINGS 4.0 (2.0..8.0) Practice "practice" "two small ball bearings and a leather or cord";
    WINDAGE_900 1.0 (0.5..2.0) Practice "practice" "a light flyer; run it without yarn to measure";
    SAFE_SPEED 2000.0 (2000.0..2000.0) Practice "practice" "some flyers fail just above; test behind a guard";
    START_FACTOR 1.5 (1.3..2.0) Practice "practice" "static over moving friction";
    CURRENT_SHARE_LIMIT 20.0 (15.0..25.0) Memory "practice" "small brushed motors, continuous";
    GAP_FACTOR 1.4 (1.3..1.5) Practice "practice" "a hand-spun thread, with its thick places";
    EYE_FACTOR 2.5 (2.0..3.0) Practice "practice" "a hand-spun thread, with its thick places and knots";
    SLOT_HEIGHT 78.0 (78.0..78.0) Practice "practice" "passes a lift of 29 mm";
    FELL_TO_HEDDLE 15.0 (15.0..15.0) Practice "practice" "a hand's breadth and a half to throw in";
    HEDDLE_TO_BACK 42.0 (42.0..42.0) Practice "practice" "a deep loom strains the shed less";
    LIFT 25.0 (25.0..25.0) Practice "practice" "twice a flat shuttle";
    SHUTTLE_HEIGHT 12.0 (12.0..12.0) Practice "practice" "a flat stick shuttle, loaded";
    SHUTTLE_WIDTH 28.0 (28.0..28.0) Practice "practice" "a flat stick shuttle";
    SHUTTLE_CLEARANCE 5.0 (3.0..8.0) Practice "practice" "room before the heddle";
    ADVANCE 35.0 (30.0..40.0) Practice "practice" "woven before the warp is moved on";
    BEAM_DIAMETER 45.0 (45.0..45.0) Practice "practice" "a stair rail or a turned bar";
    BEAM_SPAN 80.0 (80.0..80.0) Practice "practice" "until the loom's width is stated";
    MOTOR_PULLEY 18.0 (18.0..18.0) Practice "practice" "the smallest that does not harm a 2 mm belt";
    SPINDLE_PULLEY 63.0 (63.0..63.0) Practice "practice" "decided from speeds where a motor is stated";
    BEAM_BORE 0.0 (0.0..0.0) Practice "practice" "a solid bar";
    STRENGTH_SPREAD 16.0 (16.0..16.0) Memory "wood-handbook" "table 5-6, coefficient of variation of bending strength";
    PEAK_FACTOR 2.5 (2.0..3.0) Practice "practice" "peaks two to three times the mean";
    TEETH 36.0 (36.0..36.0) Practice "practice" "a ratchet that can be cut at home";
    PAWLS 1.0 (1.0..1.0) Practice "practice" "one, unless the plan says more";
    LAYER 1.0 (0.6..1.5) Practice "practice" "warp with paper or sticks between";
    TOOTH_CIRCLE 80.0 (80.0..80.0) Practice "practice" "a ratchet that can be cut at home";
    BAR_WRAP 90.0 (90.0..90.0) Practice "practice" "from level down to the cloth beam";
    PRINT_SHAPE 1.0 (1.0..1.0) Practice "practice" "a square until the artwork is read";
    PRINT_COVERAGE 0.4 (0.2..0.6) Practice "practice" "until the artwork is read";
    PRINT_INKS 1.0 (1.0..1.0) Practice "practice" "one, until the artwork is read";
    MESH 43.0 (43.0..43.0) Memory "practice" "flat colour on cloth, 32 to 55 threads a centimetre";
    MESH_THREAD 80.0 (80.0..80.0) Memory "mesh-table" "43-80";
    MESH_THICKNESS_FACTOR 1.65 (1.5..1.8) Published "screenweb-2009" "p. 4: 63 um on two threads of 40";
    LINE_FACTOR 1.5 (1.2..2.5) Practice "practice" "spacings a line must cover; a test strip replaces it";
    DOT_FACTOR 2.0 (1.6..3.0) Practice "practice" "spacings a dot must cover; a test strip replaces it";
    INK_GAIN 0.15 (0.08..0.3) Practice "practice" "spread past an edge on cloth; a test strip replaces it";
    INK_LAID 40.0 (20.0..80.0) Practice "practice" "dabbed or pressed on by hand, thicker than a screen's";
    LATER_SHRINK 2.0 (1.0..3.0) Practice "practice" "washed cloth in later washes";
    INK_DENSITY 1.1 (1.0..1.3) Practice "practice" "water-based and plastisol inks are a little heavier than water";
    CLOTH_TAKE 2.0 (1.5..2.5) Practice "practice" "open handwoven cloth and what stays on the screen";
    STOPS 20.0 (10.0..35.0) Practice "practice" "time by about a quarter more than running time";
    PLYING_PACE 270.0 (150.0..400.0) Practice "practice" "a diary: 450 yd in 1.5 h";
    SKEINING_PACE 900.0 (500.0..1500.0) Practice "practice" "reel, wash, wind to a ball";
    WINDING_PACE 600.0 (350.0..900.0) Practice "practice" "a diary: 390 ends of 8 yd in an afternoon";
    THREADING_PACE 220.0 (140.0..280.0) Practice "practice" "diaries: 200 and 240 an hour";
    PICKING_PACE 12.0 (7.0..18.0) Practice "practice" "diaries: 18 a minute for a hobby loom; slower on a rigid heddle";
    SEWING_PACE 1.2 (0.7..2.0) Practice "practice" "cutting, pinning, sewing, pressing";
    FINISHING_ONCE 4.0 (2.0..8.0) Practice "practice" "wash, dry, press";
    SAMPLING_ONCE 6.0 (3.0..10.0) Practice "practice" "thirty metres and a hand's breadth of cloth";
    PRINTING_ONCE 3.0 (1.5..6.0) Practice "practice" "film, coat, expose, wash out";
    PRINTING_PACE 6.0 (3.0..12.0) Practice "practice" "pull and hang";
}

/// Everything that is assumed for any plan.
pub fn general() -> Vec<Assumption> {
    let to_si = |slot: u16, value: f64| ALL[slot as usize].unit.scale.to_si(value);
    rows()
        .into_iter()
        .map(|row| Assumption {
            slot: row.slot,
            middle: to_si(row.slot, row.middle),
            low: to_si(row.slot, row.low),
            high: to_si(row.slot, row.high),
            source: Source { key: row.key, at: row.at },
            evidence: row.evidence,
        })
        .collect()
}
