//! The motor as a straight line: from its plate, or from a meter on the bench.
//!
//! One constant (volts a radian a second, which is also newton metres an ampere), the winding's resistance and what it draws
//! with nothing to turn. Formulas are the registry's; this module only decides which numbers are to be believed.

use crate::formulas::spinner::{HOT_RESISTANCE, MOTOR_CONSTANT};
use crate::machine::Refusal;
use crate::units::{
    AMP, Current, DEG_C, MotorConstant, OHM, Q, RPM, Resistance, Rotation, Temperature, V_S, VOLT, Voltage,
};

/// A brushed permanent-magnet motor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motor {
    /// ke = kt.
    pub constant: Q<MotorConstant>,
    /// Winding, cold (20 °C).
    pub resistance: Q<Resistance>,
    /// Drawn with nothing to turn.
    pub no_load: Q<Current>,
    /// Not to be run above.
    pub rated: Q<Voltage>,
}

/// What is known of the motor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Told {
    /// Plate or data sheet at the rated voltage.
    Plate { rated: Q<Voltage>, no_load_speed: Q<Rotation>, no_load: Q<Current>, resistance: Q<Resistance> },
    /// Two readings of a meter and a speed: current while it runs free at `volts`, resistance between the leads at rest (the
    /// least of several positions), and the speed then. `rated` from the plate, or the voltage of the thing it came from.
    Meter { volts: Q<Voltage>, no_load: Q<Current>, resistance: Q<Resistance>, speed: Q<Rotation>, rated: Q<Voltage> },
    /// No tachometer: turned by a drill of known speed it gives `volts` with open leads; the current from a run on the supply.
    Turned { volts: Q<Voltage>, speed: Q<Rotation>, no_load: Q<Current>, resistance: Q<Resistance>, rated: Q<Voltage> },
}

impl Motor {
    /// The motor of what is known.
    ///
    /// # Errors
    /// A reading that is not a positive number, a current that leaves no voltage for turning, or a constant that no small
    /// motor has.
    pub fn of(told: Told) -> Result<Motor, Refusal> {
        let (volts, speed, no_load, resistance, rated) = match told {
            Told::Plate { rated, no_load_speed, no_load, resistance } => {
                (rated, no_load_speed, no_load, resistance, rated)
            }
            Told::Meter { volts, no_load, resistance, speed, rated } => (volts, speed, no_load, resistance, rated),
            // Open leads: no current, so the whole voltage is the motor's own.
            Told::Turned { volts, speed, no_load, resistance, rated } => (volts, speed, no_load, resistance, rated),
        };
        check(&[
            ("voltage", volts.get(&VOLT), 0.5, 60.0),
            ("rated voltage", rated.get(&VOLT), 0.5, 60.0),
            ("speed", speed.get(&RPM), 20.0, 60_000.0),
            ("no-load current", no_load.get(&AMP), 0.0, 20.0),
            ("winding resistance", resistance.get(&OHM), 0.01, 500.0),
        ])?;
        let running = if matches!(told, Told::Turned { .. }) { 0.0 } else { no_load.get(&AMP) };
        let lost = running * resistance.get(&OHM);
        if lost > 0.5 * volts.get(&VOLT) {
            return Err(Refusal::new(
                "motor",
                format!(
                    "the no-load current of {running} A over {} ohm takes {lost:.1} V of the {} V: measure both again (the \
                     least resistance of several positions, the current with nothing on the shaft)",
                    resistance.get(&OHM),
                    volts.get(&VOLT)
                ),
            ));
        }
        let constant = (MOTOR_CONSTANT.code)([volts.get(&VOLT), running, resistance.get(&OHM), speed.get(&RPM)]);
        Ok(Motor { constant: Q::new(constant, &V_S), resistance, no_load, rated })
    }

    /// Winding resistance at a temperature.
    pub fn hot(&self, winding: Q<Temperature>) -> Q<Resistance> {
        Q::new((HOT_RESISTANCE.code)([self.resistance.get(&OHM), winding.get(&DEG_C)]), &OHM)
    }
}

fn check(readings: &[(&str, f64, f64, f64)]) -> Result<(), Refusal> {
    for (name, value, low, high) in readings {
        if !(*value >= *low && *value <= *high) {
            return Err(Refusal::new("motor", format!("a {name} of {value} was given; {low} to {high} is accepted")));
        }
    }
    Ok(())
}

/// By what share a printed torque constant (N·m/A) and speed constant (V·s/rad) of one motor differ. They are the same number in
/// SI: a gap of some per cent says that one of them is rounded or wrong.
pub fn constants_gap(torque: f64, speed: Q<MotorConstant>) -> Option<f64> {
    let speed = speed.get(&V_S);
    (torque > 0.0 && speed > 0.0).then(|| (torque - speed).abs() / speed.max(torque))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn demo() -> Told {
        Told::Plate {
            rated: Q::new(18.0, &VOLT),
            no_load_speed: Q::new(7200.0, &RPM),
            no_load: Q::new(0.12, &AMP),
            resistance: Q::new(5.0, &OHM),
        }
    }

    #[test]
    fn plate_meter_and_drill_agree() {
        let plate = Motor::of(demo()).unwrap();
        assert!((plate.constant.get(&V_S) - (18.0 - 0.6) / (7200.0 * std::f64::consts::PI / 30.0)).abs() < 1e-12);
        let meter = Motor::of(Told::Meter {
            volts: Q::new(9.0, &VOLT),
            no_load: Q::new(0.12, &AMP),
            resistance: Q::new(5.0, &OHM),
            speed: Q::new((9.0 - 0.6) / plate.constant.get(&V_S) * 30.0 / std::f64::consts::PI, &RPM),
            rated: Q::new(18.0, &VOLT),
        })
        .unwrap();
        let drill = Motor::of(Told::Turned {
            volts: Q::new(plate.constant.get(&V_S) * 100.0, &VOLT),
            speed: Q::si(100.0),
            no_load: Q::new(0.12, &AMP),
            resistance: Q::new(5.0, &OHM),
            rated: Q::new(18.0, &VOLT),
        })
        .unwrap();
        for other in [meter, drill] {
            assert!((other.constant.get(&V_S) - plate.constant.get(&V_S)).abs() < 1e-12);
        }
        // Published (`iec-60028`): copper at 100 °C has 1.314 times its resistance at 20 °C.
        assert!((plate.hot(Q::new(100.0, &DEG_C)).get(&OHM) / 5.0 - 1.3144).abs() < 1e-9);
    }

    /// A printed exercise: 0.12 N.m/A printed beside 12 V/krpm = 0.1146 V.s/rad: a gap of 4.5 % of the larger (4.7 % of the smaller).
    #[test]
    fn constants_that_break_their_identity_are_seen() {
        let speed = Q::new(12.0 / (1000.0 * std::f64::consts::PI / 30.0), &V_S);
        assert!((constants_gap(0.12, speed).unwrap() - 0.0451).abs() < 1e-4);
        assert!(constants_gap(0.0, speed).is_none());
    }

    #[test]
    fn nonsense_is_refused_with_its_number() {
        let with = |resistance: f64, no_load: f64| {
            Motor::of(Told::Plate {
                rated: Q::new(18.0, &VOLT),
                no_load_speed: Q::new(7200.0, &RPM),
                no_load: Q::new(no_load, &AMP),
                resistance: Q::new(resistance, &OHM),
            })
            .unwrap_err()
            .to_string()
        };
        assert!(with(0.0, 0.1).contains("winding resistance of 0"));
        assert!(with(f64::NAN, 0.1).contains("winding resistance"));
        assert!(with(300.0, 0.1).contains("takes 30.0 V of the 18 V"));
    }
}
