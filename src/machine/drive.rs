//! The spinner's drive over the whole knob: speeds, currents and heat at each position, and where to set it.
//!
//! A rig is a motor, a supply behind a speed control, two pulleys and what the spindle has to be turned against. All formulas
//! are the registry's. Spindle means what the belt drives: the flyer, or the bobbin where that is driven.

use crate::formulas::spinner as f;
use crate::machine::Refusal;
use crate::machine::motor::Motor;
use crate::units::{
    AMP, Current, Length, MM, MN_M, NEWTON_M, OHM, PERCENT, Power, Q, RPM, Ratio, Resistance, Rotation, Torque, V_S,
    VOLT, Voltage, WATT,
};

/// Everything between the wall and the flyer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rig {
    pub motor: Motor,
    /// Winding at work.
    pub winding: Q<Resistance>,
    pub supply: Q<Voltage>,
    pub supply_limit: Q<Current>,
    /// Kept by the speed control.
    pub driver_drop: Q<Voltage>,
    /// Pitch diameters.
    pub motor_pulley: Q<Length>,
    pub spindle_pulley: Q<Length>,
    pub slip: Q<Ratio>,
    pub belt_efficiency: Q<Ratio>,
    pub bearings: Q<Torque>,
    pub windage_900: Q<Torque>,
    /// Brake with the bobbin full: it loads the motor whether or not yarn moves.
    pub brake: Q<Torque>,
    /// Torque to start over torque to keep going.
    pub start_factor: f64,
    /// Share of the stall current at the rated voltage that the winding stands for long.
    pub current_share: Q<Ratio>,
}

/// One place of the knob.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Knob, 0 to 1: the duty of the speed control.
    pub knob: f64,
    pub spindle: Q<Rotation>,
    pub motor: Q<Rotation>,
    /// In the winding.
    pub current: Q<Current>,
    /// Mean, from the supply.
    pub supply_current: Q<Current>,
    /// In the winding.
    pub heat: Q<Power>,
    /// Above the motor's rated voltage.
    pub over_voltage: bool,
    /// Above what the winding stands for long.
    pub too_hot: bool,
    /// A full bobbin starts by itself here.
    pub starts: bool,
}

impl Rig {
    /// Checks that the rig is one.
    ///
    /// # Errors
    /// Pulleys, voltages or torques outside what a bench spinner can have.
    pub fn check(&self) -> Result<(), Refusal> {
        let number = |about, name: &str, value: f64, low: f64, high: f64, unit: &str| {
            if value >= low && value <= high {
                return Ok(());
            }
            Err(Refusal::new(
                about,
                format!("a {name} of {value} {unit} was given; {low} to {high} {unit} is accepted"),
            ))
        };
        number("pulleys", "motor pulley", self.motor_pulley.get(&MM), 3.0, 300.0, "mm")?;
        number("pulleys", "spindle pulley", self.spindle_pulley.get(&MM), 3.0, 600.0, "mm")?;
        number("supply", "supply", self.supply.get(&VOLT), 0.5, 30.0, "V")?;
        number("supply", "current limit", self.supply_limit.get(&AMP), 0.05, 50.0, "A")?;
        number("supply", "driver drop", self.driver_drop.get(&VOLT), 0.0, 5.0, "V")?;
        number("motor", "winding resistance", self.winding.get(&OHM), 0.01, 500.0, "ohm")?;
        number("pulleys", "slip", self.slip.get(&PERCENT), 0.0, 30.0, "%")?;
        number("pulleys", "belt efficiency", self.belt_efficiency.get(&PERCENT), 30.0, 100.0, "%")?;
        number("bobbin", "bearing torque", self.bearings.get(&MN_M), 0.0, 500.0, "mN·m")?;
        number("bobbin", "air drag", self.windage_900.get(&MN_M), 0.0, 500.0, "mN·m")?;
        number("bobbin", "brake torque", self.brake.get(&MN_M), 0.0, 2000.0, "mN·m")?;
        number("motor", "start factor", self.start_factor, 1.0, 5.0, "")
    }

    /// Spindle pulley over motor pulley.
    pub fn ratio(&self) -> f64 {
        (f::PULLEY_RATIO.code)([self.spindle_pulley.get(&MM), self.motor_pulley.get(&MM)])
    }
    /// The knob may not go further: the motor's rated voltage.
    pub fn knob_limit(&self) -> f64 {
        (self.motor.rated.get(&VOLT) / self.supply.get(&VOLT)).min(1.0)
    }
    /// What happens with the knob at `knob` (0 to 1) and the bobbin full; `None` where it does not turn.
    pub fn at(&self, knob: f64) -> Option<Point> {
        let volts = knob * self.supply.get(&VOLT);
        let (i, e) = (self.ratio(), self.belt_efficiency.get(&PERCENT));
        let (ke, r) = (self.motor.constant.get(&V_S), self.winding.get(&OHM));
        let steady = self.bearings.get(&MN_M) + self.brake.get(&MN_M);
        let held = (f::VOLTAGE_OF_TORQUE.code)([steady, i, e, ke, r]);
        let air = (f::VOLTAGE_OF_TORQUE.code)([self.windage_900.get(&MN_M), i, e, ke, r]);
        let left = (f::VOLTAGE_LEFT.code)([volts, self.driver_drop.get(&VOLT), self.motor.no_load.get(&AMP), r, held]);
        if left.is_nan() || left <= 0.0 {
            return None;
        }
        let k = (f::CONSTANT_AT_SPINDLE.code)([ke, i, self.slip.get(&PERCENT)]);
        Some(self.point(knob, (f::TOP_SPEED.code)([left, k, air])))
    }
    /// The knob for a spindle speed with the bobbin full; may come out above 1, which says that it cannot be reached.
    pub fn knob_for(&self, spindle: Q<Rotation>) -> f64 {
        let motor = (f::MOTOR_SPEED.code)([spindle.get(&RPM), self.ratio(), self.slip.get(&PERCENT)]);
        let volts = (f::VOLTAGE_NEEDED.code)([
            self.motor.constant.get(&V_S),
            motor,
            self.current_at(spindle.get(&RPM)),
            self.winding.get(&OHM),
            self.driver_drop.get(&VOLT),
        ]);
        volts / self.supply.get(&VOLT)
    }
    /// Spindle speed with brake off and yarn broken and the switch failed on: what the flyer must stand.
    pub fn runaway(&self) -> Q<Rotation> {
        let m = &self.motor;
        let n = (f::RUNAWAY.code)([
            self.supply.get(&VOLT),
            m.no_load.get(&AMP),
            m.resistance.get(&OHM),
            m.constant.get(&V_S),
            self.ratio(),
        ]);
        Q::new(n.max(0.0), &RPM)
    }
    /// Torque at the spindle that starting a full bobbin takes.
    pub fn start_needs(&self) -> Q<Torque> {
        let needs = (f::START_NEEDS.code)([self.start_factor, self.bearings.get(&MN_M), self.brake.get(&MN_M)]);
        Q::new(needs, &MN_M)
    }
    /// Least knob at which a full bobbin starts; `None` where no knob does it within the supply's limit.
    pub fn starting_knob(&self) -> Option<f64> {
        let per_amp = self.motor.constant.get(&V_S) * self.ratio() * self.belt_efficiency.get(&PERCENT) / 100.0;
        let amps = self.start_needs().get(&NEWTON_M) / per_amp + self.motor.no_load.get(&AMP);
        let knob = (amps * self.winding.get(&OHM) + self.driver_drop.get(&VOLT)) / self.supply.get(&VOLT);
        // The supply's mean current at stall is the winding's times the knob.
        (knob <= self.knob_limit() && knob * amps <= self.supply_limit.get(&AMP)).then_some(knob)
    }
    /// Winding current that the motor stands for long.
    pub fn lasting_current(&self) -> Q<Current> {
        let stall = self.motor.rated.get(&VOLT) / self.motor.resistance.get(&OHM);
        Q::new(self.current_share.get(&PERCENT) / 100.0 * stall, &AMP)
    }

    fn current_at(&self, rpm: f64) -> f64 {
        let air = (f::WINDAGE.code)([self.windage_900.get(&MN_M), rpm]);
        let load = (f::SPINDLE_LOAD.code)([self.bearings.get(&MN_M), air, self.brake.get(&MN_M)]);
        let torque = (f::MOTOR_TORQUE.code)([load, self.ratio(), self.belt_efficiency.get(&PERCENT)]);
        (f::CURRENT.code)([torque, self.motor.constant.get(&V_S), self.motor.no_load.get(&AMP)])
    }

    fn point(&self, knob: f64, rpm: f64) -> Point {
        let current = self.current_at(rpm);
        Point {
            knob,
            spindle: Q::new(rpm, &RPM),
            motor: Q::new((f::MOTOR_SPEED.code)([rpm, self.ratio(), self.slip.get(&PERCENT)]), &RPM),
            current: Q::new(current, &AMP),
            supply_current: Q::new(knob * current, &AMP),
            heat: Q::new((f::HEAT.code)([current, self.winding.get(&OHM)]), &WATT),
            over_voltage: knob > self.knob_limit() + 1e-9,
            too_hot: current > self.lasting_current().get(&AMP),
            starts: self.starting_knob().is_some_and(|k| knob >= k - 1e-9),
        }
    }
}

/// The knob's scale: what it gives at each of `steps` even places, from the first that turns.
pub fn knob_table(rig: &Rig, steps: u32) -> Vec<Point> {
    (1..=steps.clamp(1, 200)).filter_map(|i| rig.at(f64::from(i) / f64::from(steps.clamp(1, 200)))).collect()
}

/// A finding about the drive: what, the number, its limit, whether it passes.
#[derive(Clone, Debug, PartialEq)]
pub struct Margin {
    pub what: &'static str,
    pub value: f64,
    pub limit: f64,
    pub unit: &'static str,
    /// True where the value must not exceed the limit, false where it must reach it.
    pub at_most: bool,
    pub passes: bool,
}

/// What stands in the way of working at `spindle`, each with its number; `safe` is what the flyer is trusted with.
pub fn margins(rig: &Rig, spindle: Q<Rotation>, safe: Q<Rotation>) -> Vec<Margin> {
    let knob = 100.0 * rig.knob_for(spindle);
    let limit = 100.0 * rig.knob_limit();
    let current = rig.current_at(spindle.get(&RPM));
    let per_amp = rig.motor.constant.get(&V_S) * rig.ratio() * rig.belt_efficiency.get(&PERCENT) / 100.0;
    let most_amps = (rig.knob_limit() * rig.supply.get(&VOLT) - rig.driver_drop.get(&VOLT)) / rig.winding.get(&OHM);
    let supplied = most_amps.min(rig.supply_limit.get(&AMP) / rig.knob_limit());
    let start = 1e3 * (supplied - rig.motor.no_load.get(&AMP)) * per_amp;
    let upper =
        |what, value: f64, limit: f64, unit| Margin { what, value, limit, unit, at_most: true, passes: value <= limit };
    vec![
        upper("knob for this speed", knob, limit, "%"),
        upper("current in the winding", current, rig.lasting_current().get(&AMP), "A"),
        upper("current from the supply", knob / 100.0 * current, rig.supply_limit.get(&AMP), "A"),
        Margin {
            what: "torque to start a full bobbin",
            value: start,
            limit: rig.start_needs().get(&MN_M),
            unit: "mN·m",
            at_most: false,
            passes: start >= rig.start_needs().get(&MN_M),
        },
        upper("runaway speed", rig.runaway().get(&RPM), safe.get(&RPM), "rpm"),
    ]
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::machine::motor::Told;

    /// The drive of the Tern Bay plan: 18 V motor on a 16 V supply, 18 and 63 mm pulleys.
    pub(crate) fn tern_bay() -> Rig {
        let motor = Motor::of(Told::Plate {
            rated: Q::new(18.0, &VOLT),
            no_load_speed: Q::new(7200.0, &RPM),
            no_load: Q::new(0.12, &AMP),
            resistance: Q::new(5.0, &OHM),
        })
        .unwrap();
        Rig {
            winding: Q::new(6.0, &OHM),
            motor,
            supply: Q::new(16.0, &VOLT),
            supply_limit: Q::new(3.5, &AMP),
            driver_drop: Q::new(0.5, &VOLT),
            motor_pulley: Q::new(18.0, &MM),
            spindle_pulley: Q::new(63.0, &MM),
            slip: Q::new(2.0, &PERCENT),
            belt_efficiency: Q::new(90.0, &PERCENT),
            bearings: Q::new(4.0, &MN_M),
            windage_900: Q::new(1.5, &MN_M),
            brake: Q::new(15.1, &MN_M),
            start_factor: 1.5,
            current_share: Q::new(25.0, &PERCENT),
        }
    }

    /// The practitioner's figures for this plan: motor 3 930 rpm, 0.40 A, 78 % duty, 1.0 W copper heat, top loaded speed
    /// 1 516 rpm with a cold winding, runaway 1 821 rpm.
    #[test]
    fn tern_bay_works() {
        let rig = tern_bay();
        rig.check().unwrap();
        let work = Q::new(1100.0, &RPM);
        let knob = rig.knob_for(work);
        let point = rig.at(knob).unwrap();
        assert!((point.spindle.get(&RPM) - 1100.0).abs() < 1e-6, "the two ways meet");
        assert!((knob - 0.78).abs() < 0.01, "{knob}");
        assert!((point.motor.get(&RPM) - 3930.0).abs() < 2.0);
        assert!((point.current.get(&AMP) - 0.40).abs() < 0.02, "{}", point.current.get(&AMP));
        assert!((point.heat.get(&WATT) - 1.0).abs() < 0.05);
        assert!((rig.runaway().get(&RPM) - 1821.0).abs() < 15.0, "{}", rig.runaway().get(&RPM));
        assert!(margins(&rig, work, Q::new(2000.0, &RPM)).iter().all(|m| m.passes));
    }

    #[test]
    fn the_knob_rises() {
        let table = knob_table(&tern_bay(), 20);
        assert!(table.len() > 12 && table.windows(2).all(|w| w[1].spindle.get(&RPM) > w[0].spindle.get(&RPM)));
        assert!(!table[0].starts && table.last().unwrap().starts);
    }

    /// A 6 V motor of a toy on a 9 V supply: too slow at its cap, and said to be.
    #[test]
    fn a_weak_motor_fails_for_the_right_reason() {
        let motor = Motor::of(Told::Plate {
            rated: Q::new(6.0, &VOLT),
            no_load_speed: Q::new(5200.0, &RPM),
            no_load: Q::new(0.25, &AMP),
            resistance: Q::new(1.9, &OHM),
        })
        .unwrap();
        let rig = Rig {
            winding: Q::new(2.3, &OHM),
            supply: Q::new(9.0, &VOLT),
            supply_limit: Q::new(2.5, &AMP),
            motor_pulley: Q::new(13.0, &MM),
            spindle_pulley: Q::new(60.0, &MM),
            motor,
            ..tern_bay()
        };
        let found = margins(&rig, Q::new(1100.0, &RPM), Q::new(2000.0, &RPM));
        let failed: Vec<&str> = found.iter().filter(|m| !m.passes).map(|m| m.what).collect();
        assert_eq!(failed, ["knob for this speed"], "{found:?}");
        assert!((rig.knob_limit() - 2.0 / 3.0).abs() < 1e-12);
    }

    #[test]
    fn impossible_pulleys_are_refused() {
        for bad in [0.0, -18.0, f64::NAN, 1e6] {
            let rig = Rig { motor_pulley: Q::new(bad, &MM), ..tern_bay() };
            assert!(rig.check().unwrap_err().to_string().contains("motor pulley"));
        }
        assert!(tern_bay().at(0.0).is_none());
    }
}
