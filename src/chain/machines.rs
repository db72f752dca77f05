//! The two machines of a run as things: what the numbers and the plan decided, handed to the shapes, searches and tables of
//! [`crate::machine`]. Made on first use, once a plan, never in a trial. A machine that cannot be built says why; the rest
//! of the outcome stands.

use super::keys as id;
use super::mode::Numbers;
use crate::machine::brake::{self, Brake, Driven, Row, Spring, WindOn};
use crate::machine::drive::{self, Margin, Rig};
use crate::machine::heddle::{self, Compared, Cut, Style};
use crate::machine::loom::{self, Loom, LoomWish, Section, Sitter, Stands, Stiffening};
use crate::machine::motor::{Motor, Told};
use crate::machine::netlist::control::{self, Turning};
use crate::machine::netlist::sizes::{self, Buy, Load, Sizes};
use crate::machine::netlist::truth::{self, Truth};
use crate::machine::pulley::{self, Choice};
use crate::machine::shopping::{self, Needs, Shopping};
use crate::machine::spinner::{self, Spinner, SpinnerWish};
use crate::machine::{Refusal, whirl};
use crate::plan::Plan;
use crate::trade::timber::Timber;
use crate::units::*;

pub mod stock;

/// A machine and what came of it.
pub struct Machines {
    /// None where the plan states no motor.
    pub spinner: Option<Result<SpinnerWork, Refusal>>,
    /// None where the plan states no loom width.
    pub loom: Option<Result<LoomWork, Refusal>>,
    /// What to saw and buy for those that can be built; none where the plan states neither.
    pub buying: Option<Result<Buying, Refusal>>,
}

/// The cutting and shopping list of a plan.
pub struct Buying {
    pub shopping: Shopping,
    /// Boards and rods of the plan that no part is made of, and prices of parts that are not bought.
    pub unused: Vec<String>,
    /// Machines of the plan that the list leaves out, and why.
    pub without: Vec<String>,
}

/// The spinner worked up.
pub struct SpinnerWork {
    pub rig: Rig,
    /// Flyer, or bobbin where that is driven, at work.
    pub work: Q<Rotation>,
    pub flyer: Q<Rotation>,
    pub twist: Q<PerLength>,
    pub pace: Q<Speed>,
    pub margins: Vec<Margin>,
    /// Pulleys to hand, best first; empty where none are listed.
    pub pulleys: Vec<Choice>,
    pub brake: Brake,
    pub marks: Vec<Row>,
    pub wind_on: WindOn,
    pub spinner: Spinner,
    pub whirl: Option<Q<Rotation>>,
    pub balance: Option<Q<Length>>,
    pub belt: Q<Length>,
    /// Time to run down from the runaway speed with the brake off, and the slow relay's setting, seconds.
    pub run_down: f64,
    pub wait: f64,
    pub electrics: Result<Electrics, Refusal>,
}

/// The wiring worked up.
pub struct Electrics {
    pub turning: Turning,
    pub load: Load,
    pub sizes: Sizes,
    pub truth: &'static Truth,
    pub buy: Vec<Buy>,
}

/// The loom worked up.
pub struct LoomWork {
    pub loom: Loom,
    pub compared: Vec<Compared>,
    pub cuts: Vec<Cut>,
    /// Load of an end at rest, with the shed open, and what breaks it; force to lift the eyes, where a rigid heddle lifts them.
    pub rest: Q<Force>,
    pub open: Q<Force>,
    pub breaks: Q<Force>,
    pub lift: Option<Q<Force>>,
    /// Cloth woven before it is wound on; room between shuttle and heddle.
    pub advance: Q<Length>,
    pub clear: Q<Length>,
}

/// Works both machines up; `weave_shafts` is what the draft needs where string heddles weave it.
pub fn work_up(plan: &Plan, numbers: &Numbers, weave_shafts: u32) -> Machines {
    let spinner = numbers.get(&id::MOTOR_RATED).map(|_| spinner(plan, numbers));
    let loom = numbers.get(&id::WEAVING_WIDTH).map(|_| loom(plan, numbers, weave_shafts));
    let buying = buying(plan, spinner.as_ref(), loom.as_ref());
    Machines { spinner, loom, buying }
}

/// The list for the machines that can be built; where none can, why.
fn buying(
    plan: &Plan,
    spinner: Option<&Result<SpinnerWork, Refusal>>,
    loom: Option<&Result<LoomWork, Refusal>>,
) -> Option<Result<Buying, Refusal>> {
    let mut needs = Needs::default();
    let mut refused: Vec<(&str, &Refusal)> = Vec::new();
    match loom {
        Some(Ok(work)) => needs.loom = &work.loom.parts,
        Some(Err(refusal)) => refused.push(("the loom", refusal)),
        None => {}
    }
    match spinner {
        Some(Ok(work)) => {
            needs.spinner = &work.spinner.parts;
            match &work.electrics {
                Ok(electrics) => needs.wiring = &electrics.buy,
                Err(refusal) => refused.push(("the spinner's wiring", refusal)),
            }
        }
        Some(Err(refusal)) => refused.push(("the spinner", refusal)),
        None => {}
    }
    if needs.loom.is_empty() && needs.spinner.is_empty() {
        return refused.first().map(|(_, refusal)| Err((*refusal).clone()));
    }
    let (terms, mut unused) = stock::terms(plan, &needs);
    let without = refused.iter().map(|(what, refusal)| format!("{what} ({})", refusal.words)).collect();
    Some(shopping::list(&needs, &terms).map(|shopping| {
        unused.extend(shopping.astray.iter().map(stock::astray));
        Buying { shopping, unused, without }
    }))
}

/// A value this machine cannot do without.
fn need<D>(n: &Numbers, key: &crate::formulas::registry::Key<D>, about: &'static str) -> Result<Q<D>, Refusal> {
    n.get(key).ok_or_else(|| Refusal::new(about, format!("{} is not known for this plan", key.name)))
}

fn middle<D: Dimension>(plan: &Plan, path: &str) -> Option<Q<D>> {
    plan.quantity::<D>(path).map(|stated| stated.middle)
}

fn spinner(plan: &Plan, n: &Numbers) -> Result<SpinnerWork, Refusal> {
    let pitch = pitches(plan, n)?;
    let rig = rig(n, pitch)?;
    rig.check()?;
    let (work, flyer) = (need(n, &id::SPINDLE_SPEED, "spinner")?, need(n, &id::FLYER_SPEED, "spinner")?);
    let (pace, twist) = (need(n, &id::PACE, "spinner")?, need(n, &id::WARP_TWIST, "spinner")?);
    let safe = n.get(&id::SAFE_SPEED).unwrap_or(Q::new(2000.0, &RPM));
    let brake = brake_of(plan, n)?;
    let shape = shape(plan, n, pitch)?;
    let flying =
        whirl::Flyer { mass: Q::new(shape.flyer_mass, &G), arm_radius: Q::new(shape.layout.arm, &MM), at_arms: 0.6 };
    let run_down = whirl::run_down(whirl::inertia(&flying), rig.runaway(), rig.bearings).unwrap_or(60.0);
    let wait = whirl::wait_seconds(run_down);
    let centres = need(n, &id::CENTRES, "pulleys")?;
    Ok(SpinnerWork {
        margins: drive::margins(&rig, work, safe),
        pulleys: pulleys(plan, n, &rig, (work, safe))?,
        marks: brake::table(&brake, 8)?,
        wind_on: brake::wind_on(driven(plan), work, pace, brake.core, brake.full, whorls(plan, n)),
        whirl: whirl::whirling_speed(&shaft(&shape, n)),
        balance: whirl::balance_offset(6.3, flyer),
        belt: n.get(&id::BELT_LENGTH).unwrap_or(centres * 2.0),
        electrics: electrics(plan, n, &rig),
        spinner: shape,
        rig,
        work,
        flyer,
        twist,
        pace,
        brake,
        run_down,
        wait,
    })
}

/// Pitch diameters of motor and spindle pulley: those measured at the bottom of the grooves are a belt less.
fn pitches(plan: &Plan, n: &Numbers) -> Result<[Q<Length>; 2], Refusal> {
    let bottoms = plan.flag("spinner.pulleys.groove_bottoms") == Some(true);
    let belt = if bottoms { need(n, &id::BELT_THICKNESS, "pulleys")? } else { Q::si(0.0) };
    Ok([need(n, &id::MOTOR_PULLEY, "pulleys")? + belt, need(n, &id::SPINDLE_PULLEY, "pulleys")? + belt])
}

fn rig(n: &Numbers, pitch: [Q<Length>; 2]) -> Result<Rig, Refusal> {
    let motor = Motor::of(Told::Plate {
        rated: need(n, &id::MOTOR_RATED, "motor")?,
        no_load_speed: need(n, &id::NO_LOAD, "motor")?,
        no_load: need(n, &id::NO_LOAD_CURRENT, "motor")?,
        resistance: need(n, &id::RESISTANCE, "motor")?,
    })?;
    Ok(Rig {
        motor,
        winding: need(n, &id::HOT_RESISTANCE, "motor")?,
        supply: need(n, &id::SUPPLY_VOLTAGE, "supply")?,
        supply_limit: need(n, &id::SUPPLY_LIMIT, "supply")?,
        driver_drop: need(n, &id::DRIVER_DROP, "supply")?,
        motor_pulley: pitch[0],
        spindle_pulley: pitch[1],
        slip: need(n, &id::SLIP, "pulleys")?,
        belt_efficiency: need(n, &id::BELT_EFFICIENCY, "pulleys")?,
        bearings: need(n, &id::BEARINGS, "spinner")?,
        windage_900: need(n, &id::WINDAGE_900, "spinner")?,
        brake: need(n, &id::BRAKE_FULL, "bobbin")?,
        start_factor: need(n, &id::START_FACTOR, "motor")?.to_si(),
        current_share: need(n, &id::CURRENT_SHARE_LIMIT, "motor")?,
    })
}

fn driven(plan: &Plan) -> Driven {
    match plan.choice("spinner.drive") {
        Some("bobbin") => Driven::Bobbin,
        Some("both") => Driven::Both,
        _ => Driven::Flyer,
    }
}

fn whorls(plan: &Plan, n: &Numbers) -> f64 {
    let bobbin = middle::<Length>(plan, "spinner.pulleys.bobbin");
    match (n.get(&id::SPINDLE_PULLEY), bobbin) {
        (Some(flyer), Some(bobbin)) => flyer / bobbin,
        _ => n.get(&id::WHORL_RATIO).map_or(1.0, Q::to_si),
    }
}

/// Brake as the plan states it; the groove, wrap and cord left open are those the drawing has (180 degrees, friction 0.2 to 0.4).
fn brake_of(plan: &Plan, n: &Numbers) -> Result<Brake, Refusal> {
    let flange = need(n, &id::BOBBIN_FLANGE, "bobbin")?;
    let friction = plan.quantity::<Number>("spinner.brake.friction");
    let cord_friction = friction.map_or([0.2, 0.3, 0.4], |f| [f.low, f.middle, f.high].map(Q::to_si));
    Ok(Brake {
        hand: need(n, &id::HAND_PULL, "spinner")?,
        hook_friction: need(n, &id::HOOK_FRICTION, "spinner")?,
        hook_wrap: need(n, &id::HOOK_WRAP, "spinner")?,
        core: need(n, &id::BOBBIN_CORE, "bobbin")?,
        full: need(n, &id::FULL_DIAMETER, "bobbin")?,
        // The bobbin's own bearing on the spindle: a quarter of the spindle's bearings (common practice, no source).
        shaft_drag: need(n, &id::BEARINGS, "spinner")? * 0.25,
        whorl: middle(plan, "spinner.brake.groove").unwrap_or(flange * 0.6),
        cord_friction,
        cord_wrap: middle(plan, "spinner.brake.wrap").unwrap_or(Q::new(180.0, &DEG)),
        spring: match plan.choice("spinner.brake.spring") {
            Some("leaving") => Spring::Leaving,
            Some("both") => Spring::Both,
            _ => Spring::Oncoming,
        },
        spring_rate: middle::<LineLoad>(plan, "spinner.brake.rate").map_or(0.05, |r| r.get(&N_MM)),
        // A peg of 6 mm and its cord: 20 mm a turn.
        per_turn: Q::new(20.0, &MM),
        flyer: need(n, &id::FLYER_SPEED, "spinner")?,
        pace: need(n, &id::PACE, "spinner")?,
    })
}

fn pulleys(plan: &Plan, n: &Numbers, rig: &Rig, speeds: (Q<Rotation>, Q<Rotation>)) -> Result<Vec<Choice>, Refusal> {
    let all: Vec<Q<Length>> = plan.list("spinner.pulleys.on_hand").iter().map(|r| Q::si(r.middle)).collect();
    if all.is_empty() {
        return Ok(Vec::new());
    }
    pulley::choose(
        rig,
        &pulley::Wish {
            motor: all.clone(),
            spindle: all,
            centres: need(n, &id::CENTRES, "pulleys")?,
            belt: need(n, &id::BELT_THICKNESS, "pulleys")?,
            moulded: plan.choice("spinner.pulleys.material") != Some("cord"),
            work: speeds.0,
            safe: speeds.1,
        },
    )
}

fn shape(plan: &Plan, n: &Numbers, pitch: [Q<Length>; 2]) -> Result<Spinner, Refusal> {
    let mm = |key, about| need(n, key, about).map(|q: Q<Length>| q.get(&MM));
    let plain = SpinnerWish::of(
        mm(&id::BOBBIN_CORE, "bobbin")?,
        mm(&id::BOBBIN_FLANGE, "bobbin")?,
        mm(&id::BOBBIN_WIDTH, "bobbin")?,
        (pitch[0].get(&MM), pitch[1].get(&MM)),
        mm(&id::CENTRES, "pulleys")?,
        mm(&id::BELT_THICKNESS, "pulleys")?,
    );
    spinner::design(&SpinnerWish {
        reach: middle::<Length>(plan, "spinner.flyer.reach").map(|q| q.get(&MM)),
        flyer: middle::<Mass>(plan, "spinner.flyer.mass").map(|q| q.get(&G)),
        ..plain.made_of(wood(plan), stock::system(plan))
    })
}

/// What the spinner is made of: the loom's wood.
fn wood(plan: &Plan) -> &'static str {
    let named = plan.choice("loom.timber").and_then(Timber::find).filter(|timber| !timber.metal);
    named.map_or("beech", |timber| timber.name)
}

fn shaft(s: &Spinner, n: &Numbers) -> whirl::Shaft {
    let l = &s.layout;
    whirl::Shaft {
        diameter: Q::new(s.wish.spindle, &MM),
        elasticity: Q::new(205.0, &GPA),
        between: Q::new(l.rear_bearing - l.front_bearing, &MM),
        overhang: Q::new(l.front_bearing - (l.flyer.0 + l.flyer.1) / 2.0, &MM),
        mass: Q::new(s.flyer_mass, &G) + n.get(&id::BOBBIN_MASS).unwrap_or(Q::si(0.0)),
    }
}

fn electrics(plan: &Plan, n: &Numbers, rig: &Rig) -> Result<Electrics, Refusal> {
    let bridge = plan.choice("spinner.driver.kind") == Some("bridge");
    let turning = if bridge { Turning::Bridge } else { Turning::Relay };
    let load = Load {
        voltage: rig.supply,
        supply: rig.supply_limit,
        working: need(n, &id::CURRENT, "motor")?,
        stall: need(n, &id::STALL_CURRENT, "motor")?,
        stall_hot: Q::si(rig.supply.to_si() / rig.winding.to_si()),
        lead: Q::new(1.5, &M),
    };
    let sizes = sizes::choose(&load)?;
    let net = control::spinner(turning);
    Ok(Electrics { turning, buy: sizes::buy(&net, &load, &sizes), truth: truth::of_spinner(turning), load, sizes })
}

fn style(plan: &Plan) -> Style {
    plan.choice("loom.heddle.style").and_then(Style::of).unwrap_or(Style::Sheet)
}

/// Side force on a blade, N: a caught thread's tug (common practice, no source).
const TUG: f64 = 0.5;
/// Spread of hand-spun thickness along the yarn (common practice, no source).
const UNEVEN: f64 = 0.2;

/// The heddle; string heddles hang on as many shafts as the plan says, or the weave needs.
fn heddle_wish(plan: &Plan, n: &Numbers, weave_shafts: u32) -> Result<heddle::Wish, Refusal> {
    let mm = |path| middle::<Length>(plan, path).map(|q| q.get(&MM));
    let shafts = Some(plan.whole("loom.heddle.shafts").unwrap_or(weave_shafts));
    let yarn = need(n, &id::WARP_DIAMETER, "heddle")?.get(&MM);
    let style = style(plan);
    let eye = n.get(&id::EYE).map_or(heddle::EYE_ROOM * yarn, |q| q.get(&MM));
    let blade = n.get(&id::BLADE).map_or(eye + 2.0 * style.way().least_wall, |q| q.get(&MM));
    let lift = n.get(&id::LIFT).map_or(25.0, |q| q.get(&MM));
    Ok(heddle::Wish {
        style,
        heddles: n.get(&id::HEDDLES).map_or(1, |q| q.to_si().round() as u32).clamp(1, 4),
        sett: need(n, &id::SETT_IN_REED, "heddle")?.get(&PER_CM),
        width: need(n, &id::WIDTH_IN_REED, "heddle")?.get(&MM),
        blade,
        eye,
        slot_height: n.get(&id::SLOT_HEIGHT).map_or(2.0 * lift + 28.0, |q| q.get(&MM)),
        yarn,
        unevenness: UNEVEN,
        side_force: TUG,
        thick: mm("loom.heddle.thickness"),
        cutter: mm("loom.heddle.cutter").unwrap_or(0.0),
        segment: mm("loom.heddle.segment"),
        shafts,
        ends_per_dent: plan.whole("loom.reed.ends_per_dent").unwrap_or(2),
        system: stock::system(plan),
    })
}

fn loom(plan: &Plan, n: &Numbers, weave_shafts: u32) -> Result<LoomWork, Refusal> {
    let wish = heddle_wish(plan, n, weave_shafts)?;
    let heddle = heddle::work_out(&wish)?;
    let loom = loom::design(&loom_wish(plan, n, heddle)?)?;
    Ok(LoomWork {
        compared: heddle::compare(&wish)?,
        cuts: heddle::cut(&loom.wish.heddle)?,
        rest: need(n, &id::TENSION, "warp")?,
        open: need(n, &id::PEAK_LOAD, "warp")?,
        breaks: need(n, &id::WARP_BREAK, "yarn")?,
        lift: n.get(&id::LIFT_FORCE),
        advance: need(n, &id::ADVANCE, "loom")?,
        clear: need(n, &id::SHUTTLE_CLEARANCE, "shuttle")?,
        loom,
    })
}

fn loom_wish(plan: &Plan, n: &Numbers, heddle: heddle::Heddle) -> Result<LoomWish, Refusal> {
    let tension = need(n, &id::WARP_TENSION, "loom")?;
    let named = plan.choice("loom.beam.material").or(plan.choice("loom.timber")).unwrap_or("beech");
    let timber = Timber::find(named).ok_or_else(|| Refusal::new("timber", format!("{named} is in no table")))?;
    let brace = plan.choice("loom.frame.brace");
    Ok(LoomWish {
        weaving_width: need(n, &id::WEAVING_WIDTH, "loom")?,
        ends: need(n, &id::ENDS, "warp")?.to_si().round() as u32,
        width_in_reed: need(n, &id::WIDTH_IN_REED, "warp")?,
        fell_to_heddle: need(n, &id::FELL_TO_HEDDLE, "depth")?,
        heddle_to_back: need(n, &id::HEDDLE_TO_BACK, "depth")?,
        lift: need(n, &id::LIFT, "shed")?,
        shuttle_height: need(n, &id::SHUTTLE_HEIGHT, "shuttle")?,
        shuttle_width: need(n, &id::SHUTTLE_WIDTH, "shuttle")?,
        shuttle_length: middle(plan, "loom.shuttle.length"),
        section: match plan.choice("loom.beam.section") {
            Some("square") => Section::Square,
            Some("tube") => Section::Tube { wall: middle(plan, "loom.beam.wall").unwrap_or(Q::new(1.5, &MM)) },
            _ => Section::Round,
        },
        beam: n.get(&id::BEAM_DIAMETER),
        span: n.get(&id::BEAM_SPAN),
        teeth: n.get(&id::TEETH).map_or(36, |q| q.to_si().round() as u32),
        pawls: n.get(&id::PAWLS).map_or(1, |q| q.to_si().round() as u32),
        wheel: middle(plan, "loom.ratchet.diameter"),
        timber,
        system: stock::system(plan),
        tension,
        peak: tension * n.get(&id::PEAK_FACTOR).map_or(2.5, Q::to_si),
        strain: need(n, &id::MEAN_STRAIN, "loom")?.to_si(),
        warp_length: need(n, &id::WARP_LENGTH, "warp")?,
        layer: n.get(&id::LAYER).unwrap_or(Q::new(1.0, &MM)),
        heddle,
        stands: if brace == Some("clamp") { Stands::Table } else { Stands::Floor },
        stiffening: match brace {
            Some("none") => Stiffening::Bare,
            Some("shelf") => Stiffening::Shelf,
            _ => Stiffening::Brace,
        },
        height: middle(plan, "loom.frame.height"),
        sitter: Sitter::default(),
    })
}
