//! Spinner: flyer, bobbin, belt and motor, worked out for the warp yarn, which is spun hardest. The whole brake loads the motor, whether
//! or not yarn moves.

use crate::chain::given::{Drive, Given};
use crate::chain::keys as id;
use crate::formulas::registry::{Mode, V};
use crate::formulas::{counts, spinner as by};
use crate::units::*;

use super::demand::Demand;
use super::yarn::Yarn;

/// What later stages read of the spinner.
pub struct Spinner<M: Mode> {
    pub pace: V<Speed, M>,
}

/// The motor as it works: constant, ratio, hot winding.
struct Motor<M: Mode> {
    constant: V<MotorConstant, M>,
    hot: V<Resistance, M>,
    idle: V<Current, M>,
    ratio: V<Ratio, M>,
    efficiency: V<Ratio, M>,
    slip: V<Ratio, M>,
}

/// Torques at the spindle, bobbin full.
struct Load<M: Mode> {
    bearings: V<Torque, M>,
    brake: V<Torque, M>,
    whole: V<Torque, M>,
}

/// The whole spinner.
#[inline(always)]
pub fn stage<M: Mode>(given: &Given, m: &mut M, warp: &Yarn<M>, demand: &Demand<M>) -> Spinner<M> {
    let pace = given.need(m, &id::PACE);
    let full = package(given, m, warp, demand);
    // a plan without a motor spins by hand or bought yarn: the paces still count
    if motor_can_be(given) {
        let motor = motor(given, m);
        let spindle = winding(given, m, warp, pace, full);
        let load = load(given, m, spindle, full);
        at_work(given, m, &motor, &load, spindle);
        at_the_limits(given, m, &motor, &load);
        belt(given, m);
        let stroke = given.need(m, &id::STROKE);
        let flyer = by::FLYER_SPEED.step(m, (warp.twist, pace));
        by::BEAT.to(m, &id::BEAT, (stroke, warp.twist, flyer));
    }
    Spinner { pace }
}

/// Whether there is a motor, and its idle current leaves it any voltage to turn with; deciding refuses one that has none, a trial may shake a
/// doubted one that far.
#[inline(always)]
fn motor_can_be(given: &Given) -> bool {
    let value = |slot: u16| given.si(slot);
    match (value(id::MOTOR_RATED.slot), value(id::NO_LOAD_CURRENT.slot), value(id::RESISTANCE.slot)) {
        (Some(rated), Some(idle), Some(resistance)) => rated > idle * resistance,
        _ => false,
    }
}

/// Bobbin: what it holds; gives its full diameter.
#[inline(always)]
fn package<M: Mode>(given: &Given, m: &mut M, warp: &Yarn<M>, demand: &Demand<M>) -> V<Length, M> {
    let (core, flange) = (given.need(m, &id::BOBBIN_CORE), given.need(m, &id::BOBBIN_FLANGE));
    let fill = given.need(m, &id::FILL_SHARE);
    let full = by::FULL_DIAMETER.to(m, &id::FULL_DIAMETER, (flange, fill));
    let (width, density) = (given.need(m, &id::BOBBIN_WIDTH), given.need(m, &id::PACKAGE_DENSITY));
    let mass = by::PACKAGE_MASS.to(m, &id::BOBBIN_MASS, (full, core, width, density));
    let length = counts::LENGTH_OF_MASS.to(m, &id::BOBBIN_LENGTH, (mass, warp.count));
    by::BOBBINS.to(m, &id::BOBBINS, (demand.yarn_length, length));
    full
}

/// Motor line and belt ratio.
#[inline(always)]
fn motor<M: Mode>(given: &Given, m: &mut M) -> Motor<M> {
    let (rated, idle) = (given.need(m, &id::MOTOR_RATED), given.need(m, &id::NO_LOAD_CURRENT));
    let (cold, no_load) = (given.need(m, &id::RESISTANCE), given.need(m, &id::NO_LOAD));
    let constant = by::MOTOR_CONSTANT.to(m, &id::MOTOR_CONSTANT, (rated, idle, cold, no_load));
    let temperature = given.need(m, &id::WINDING_TEMPERATURE);
    let hot = by::HOT_RESISTANCE.to(m, &id::HOT_RESISTANCE, (cold, temperature));
    let (large, small) = (given.need(m, &id::SPINDLE_PULLEY), given.need(m, &id::MOTOR_PULLEY));
    let belt = given.need(m, &id::BELT_THICKNESS);
    let ratio = if given.choices.groove_bottoms {
        by::GROOVE_RATIO.to(m, &id::RATIO, (large, small, belt))
    } else {
        by::PULLEY_RATIO.to(m, &id::RATIO, (large, small))
    };
    let (efficiency, slip) = (given.need(m, &id::BELT_EFFICIENCY), given.need(m, &id::SLIP));
    Motor { constant, hot, idle, ratio, efficiency, slip }
}

/// Speeds for the twist, and how bobbin and flyer differ; gives the speed of what the belt drives.
#[inline(always)]
fn winding<M: Mode>(given: &Given, m: &mut M, warp: &Yarn<M>, pace: V<Speed, M>, full: V<Length, M>) -> V<Rotation, M> {
    let flyer = by::FLYER_SPEED.to(m, &id::FLYER_SPEED, (warp.twist, pace));
    let core = given.need(m, &id::BOBBIN_CORE);
    let empty = by::WIND_ON.to(m, &id::WIND_ON_EMPTY, (pace, core));
    by::WIND_ON.to(m, &id::WIND_ON_FULL, (pace, full));
    if given.choices.drive == Drive::Both {
        given.hand(m, &id::WHORL_RATIO);
        by::LEAST_WHORL_RATIO.to(m, &id::LEAST_WHORL_RATIO, (core, warp.twist));
    }
    match given.choices.drive {
        Drive::Flyer | Drive::Both => {
            by::BOBBIN_LAGS.to(m, &id::BOBBIN_SPEED, (flyer, empty));
            by::SAME_SPEED.to(m, &id::SPINDLE_SPEED, (flyer,))
        }
        Drive::Bobbin => {
            let bobbin = by::BOBBIN_LEADS.to(m, &id::BOBBIN_SPEED, (flyer, empty));
            by::SAME_SPEED.to(m, &id::SPINDLE_SPEED, (bobbin,))
        }
    }
}

/// Torque at the spindle, bobbin full. With a driven bobbin the flyer's brake, air and bearings make the pull together.
#[inline(always)]
fn load<M: Mode>(given: &Given, m: &mut M, spindle: V<Rotation, M>, full: V<Length, M>) -> Load<M> {
    let pull = given.need(m, &id::HAND_PULL);
    let (friction, wrap) = (given.need(m, &id::HOOK_FRICTION), given.need(m, &id::HOOK_WRAP));
    let at_bobbin = by::PULL_AT_BOBBIN.to(m, &id::PULL_AT_BOBBIN, (pull, friction, wrap));
    let core = given.need(m, &id::BOBBIN_CORE);
    by::BRAKE_TORQUE.to(m, &id::BRAKE_EMPTY, (at_bobbin, core));
    let brake = by::BRAKE_TORQUE.to(m, &id::BRAKE_FULL, (at_bobbin, full));
    let at_900 = given.need(m, &id::WINDAGE_900);
    let air = by::WINDAGE.to(m, &id::WINDAGE, (at_900, spindle));
    let bearings = given.need(m, &id::BEARINGS);
    let whole = by::SPINDLE_LOAD.to(m, &id::SPINDLE_LOAD, (bearings, air, brake));
    Load { bearings, brake, whole }
}

/// Current, voltage, duty and heat at the working speed.
#[inline(always)]
fn at_work<M: Mode>(given: &Given, m: &mut M, motor: &Motor<M>, load: &Load<M>, spindle: V<Rotation, M>) {
    let speed = by::MOTOR_SPEED.to(m, &id::MOTOR_SPEED, (spindle, motor.ratio, motor.slip));
    let torque = by::MOTOR_TORQUE.to(m, &id::MOTOR_TORQUE, (load.whole, motor.ratio, motor.efficiency));
    let current = by::CURRENT.to(m, &id::CURRENT, (torque, motor.constant, motor.idle));
    let drop = given.need(m, &id::DRIVER_DROP);
    let volts = by::VOLTAGE_NEEDED.to(m, &id::VOLTAGE_NEEDED, (motor.constant, speed, current, motor.hot, drop));
    let supply = given.need(m, &id::SUPPLY_VOLTAGE);
    by::DUTY.to(m, &id::DUTY, (volts, supply));
    by::HEAT.to(m, &id::HEAT, (current, motor.hot));
    let (cold, rated) = (given.need(m, &id::RESISTANCE), given.need(m, &id::MOTOR_RATED));
    by::STALL_SHARE.to(m, &id::STALL_SHARE, (current, cold, rated));
    by::PLUG_CURRENT.to(m, &id::PLUG_CURRENT, (supply, motor.constant, speed, motor.hot));
}

/// Stall, start, top speed, and the speed if all that holds it fails.
#[inline(always)]
fn at_the_limits<M: Mode>(given: &Given, m: &mut M, motor: &Motor<M>, load: &Load<M>) {
    let (supply, rated) = (given.need(m, &id::SUPPLY_VOLTAGE), given.need(m, &id::MOTOR_RATED));
    let cold = given.need(m, &id::RESISTANCE);
    let cap = by::DUTY.to(m, &id::DUTY_LIMIT, (rated, supply));
    // the speed control cannot be on for more than the whole time
    let most = by::MOST_DUTY.step(m, (cap,));
    let stall = by::STALL_CURRENT.to(m, &id::STALL_CURRENT, (supply, most, cold));
    by::SUPPLY_CURRENT.to(m, &id::SUPPLY_STALL, (most, stall));
    given.hand(m, &id::DRIVER_LIMIT);
    given.hand(m, &id::SUPPLY_LIMIT);
    given.need(m, &id::SAFE_SPEED);
    given.need(m, &id::CURRENT_SHARE_LIMIT);
    // no switch and no cap: a transistor fails full on
    by::RUNAWAY.to(m, &id::RUNAWAY, (supply, motor.idle, cold, motor.constant, motor.ratio));
    let factor = given.need(m, &id::START_FACTOR);
    let whole = by::STALL_CURRENT.step(m, (supply, most, motor.hot));
    by::START_TORQUE.to(m, &id::START_TORQUE, (whole, motor.idle, motor.constant, motor.ratio, motor.efficiency));
    by::START_NEEDS.to(m, &id::START_NEEDS, (factor, load.bearings, load.brake));
    top_speed(given, m, motor, load, supply, most);
}

/// Fastest spindle under load at the most the speed control may give.
#[inline(always)]
fn top_speed<M: Mode>(
    given: &Given,
    m: &mut M,
    motor: &Motor<M>,
    load: &Load<M>,
    supply: V<Voltage, M>,
    most: V<Ratio, M>,
) {
    let still = by::TORQUE_SUM.step(m, (load.bearings, load.brake));
    let held = by::VOLTAGE_OF_TORQUE.step(m, (still, motor.ratio, motor.efficiency, motor.constant, motor.hot));
    let at_900 = given.need(m, &id::WINDAGE_900);
    let air = by::VOLTAGE_OF_TORQUE.step(m, (at_900, motor.ratio, motor.efficiency, motor.constant, motor.hot));
    let drop = given.need(m, &id::DRIVER_DROP);
    let mean = by::MEAN_VOLTAGE.step(m, (most, supply));
    let left = by::VOLTAGE_LEFT.step(m, (mean, drop, motor.idle, motor.hot, held));
    // with nothing left the spindle does not turn under load: there is no top speed, and `spinner.start_torque` says so
    if left.si() > 0.0 {
        let constant = by::CONSTANT_AT_SPINDLE.step(m, (motor.constant, motor.ratio, motor.slip));
        by::TOP_SPEED.to(m, &id::TOP_SPEED, (left, constant, air));
    }
}

/// Belt length, wrap, and the torque it passes.
#[inline(always)]
fn belt<M: Mode>(given: &Given, m: &mut M) {
    let (large, small) = (given.need(m, &id::SPINDLE_PULLEY), given.need(m, &id::MOTOR_PULLEY));
    let centres = given.need(m, &id::CENTRES);
    by::BELT_LENGTH.to(m, &id::BELT_LENGTH, (large, small, centres));
    let wrap = by::BELT_WRAP.to(m, &id::BELT_WRAP, (large, small, centres));
    let friction = given.need(m, &id::BELT_FRICTION);
    let gain = by::CAPSTAN.step(m, (friction, wrap));
    let tension = given.need(m, &id::BELT_TENSION);
    by::BELT_TORQUE.to(m, &id::BELT_TORQUE, (tension, gain, small));
}
