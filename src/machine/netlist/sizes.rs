//! Fuse and wire for the spinner's circuit, and what to buy, from the motor's and the supply's figures.

use super::{Kind, Netlist};
use crate::machine::Refusal;
use crate::trade::wire::{self, Wire};
use crate::units::{AMP, Current, Length, Q, VOLT, Voltage};

/// Highest supply this project designs with: below every common limit for dry indoor use (42.4 V peak, IEC 60335-1 as quoted in
/// IEC 62282-5-1; 60 V ripple-free d.c., IEC 61140). 30 V leaves room and is the Class 2 boundary of NEC tables 11.
pub const MOST_VOLTS: f64 = 30.0;
/// Most current of such a supply, from the same tables (100 VA at up to 30 V).
pub const MOST_WATTS: f64 = 100.0;

/// What the circuit carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// Supply, rated.
    pub voltage: Q<Voltage>,
    /// Supply, rated.
    pub supply: Q<Current>,
    /// In the motor's winding at the hardest steady work: full bobbin, full brake, highest speed wished.
    pub working: Q<Current>,
    /// In the winding at stall with the speed control fully on, the winding cold: the most that ever flows, which supply and
    /// speed control must stand.
    pub stall: Q<Current>,
    /// The same with the winding hot: the least that flows at stall, at which the fuse must still open.
    pub stall_hot: Q<Current>,
    /// Length of the longest lead, one way.
    pub lead: Q<Length>,
}

/// What was chosen and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Sizes {
    pub fuse: Q<Current>,
    pub wire: &'static Wire,
    /// Nearest American gauge not thinner.
    pub awg: Option<i32>,
    /// Lost in the leads at the working current.
    pub drop: Q<Voltage>,
    /// One sentence on which current the fuse was taken from.
    pub why: String,
    /// What the fuse does not do.
    pub cautions: Vec<String>,
}

/// Chooses fuse and wire. The fuse sits in the supply's lead, so it is taken from the winding's working current as if the
/// speed control were fully on: then supply and winding carry the same.
///
/// # Errors
/// A voltage that is not extra-low, a supply past 100 VA, or currents that are not positive numbers.
pub fn choose(load: &Load) -> Result<Sizes, Refusal> {
    check(load)?;
    let refuse = |words: &str| Refusal::new("supply", words);
    let fuse = wire::fuse_for(load.working).ok_or_else(|| refuse("no fuse is made for this current"))?;
    let most_drop = 0.03 * load.voltage.get(&VOLT);
    let wire = wire::choose(fuse, load.working, load.lead, most_drop)
        .ok_or_else(|| refuse("no wire in the list loses less than 3 % over this lead: shorten it"))?;
    let drop = Q::si(2.0 * wire::resistance(wire, load.lead).to_si() * load.working.to_si());
    let why = format!(
        "fuse: 1.25 x {:.2} A in the winding at the hardest steady work = {:.2} A, next size made {} A",
        load.working.get(&AMP),
        1.25 * load.working.get(&AMP),
        fuse.get(&AMP)
    );
    Ok(Sizes { fuse, wire, awg: wire::awg_at_least(wire.square_mm), drop, why, cautions: cautions(load, fuse) })
}

fn cautions(load: &Load, fuse: Q<Current>) -> Vec<String> {
    let (stall, hot) = (load.stall.get(&AMP), load.stall_hot.get(&AMP));
    let (supply, fuse) = (load.supply.get(&AMP), fuse.get(&AMP));
    let flows = format!("With the flyer held {stall:.1} A flows, {hot:.1} A once the winding is hot:");
    let mut out = Vec::new();
    if hot < 2.1 * fuse {
        // IEC 60127: a link must open within minutes only from 2.1 times its rating (from memory).
        out.push(format!(
            "{flows} less than 2.1 x the fuse, which saves the wires, not the winding. Never hold the flyer with the foot down."
        ));
    } else {
        out.push(format!("{flows} still {:.1} x the fuse, so it opens. Do not fit a larger one.", hot / fuse));
    }
    if fuse > supply {
        out.push(format!(
            "The fuse ({fuse} A) is above what the supply gives ({supply:.1} A): the supply's own limit acts first, and the motor stops before the fuse does."
        ));
    }
    if stall > supply {
        out.push(format!(
            "Stall ({stall:.1} A) is above what the supply gives ({supply:.1} A): it may switch off at a hard start."
        ));
    }
    out
}

fn check(load: &Load) -> Result<(), Refusal> {
    let (volts, amps) = (load.voltage.get(&VOLT), load.supply.get(&AMP));
    if !(volts > 0.0 && volts <= MOST_VOLTS) {
        return Err(Refusal::new(
            "supply",
            format!(
                "{volts} V is not designed with here; above nothing and up to {MOST_VOLTS} V direct current from a bought, closed, approved supply is"
            ),
        ));
    }
    if !(amps > 0.0 && volts * amps <= MOST_WATTS + 1e-9) {
        return Err(Refusal::new(
            "supply",
            format!("{volts} V x {amps} A: a supply of above nothing and up to {MOST_WATTS} W is accepted"),
        ));
    }
    let currents =
        [("working current", load.working), ("stall current", load.stall), ("stall current", load.stall_hot)];
    for (name, current) in currents {
        if !(current.to_si() > 0.0 && current.to_si() < 1e3) {
            return Err(Refusal::new(
                "motor",
                format!("{name} of {} A: a positive current is needed", current.to_si()),
            ));
        }
    }
    if !(load.lead.to_si() > 0.0 && load.lead.to_si() <= 10.0) {
        return Err(Refusal::new("supply", "leads from above nothing up to 10 m are accepted"));
    }
    Ok(())
}

/// A line of the shopping list.
#[derive(Clone, Debug, PartialEq)]
pub struct Buy {
    /// Marks on the diagram: "K1".
    pub mark: String,
    pub words: String,
    pub how_many: u32,
}

/// What to buy for the circuit.
pub fn buy(net: &Netlist, load: &Load, sizes: &Sizes) -> Vec<Buy> {
    let mut out: Vec<Buy> = Vec::new();
    let (volts, fuse) = (load.voltage.get(&VOLT), sizes.fuse.get(&AMP));
    for part in &net.parts {
        if out.iter().any(|b| b.mark == part.mark) {
            continue;
        }
        let words = match part.kind {
            Kind::Supply { .. } => {
                format!("{}, {volts:.0} V direct current, {:.1} A, double insulated", part.words, load.supply.get(&AMP))
            }
            Kind::Fuse { .. } => format!("{}, {fuse} A", part.words),
            Kind::Make { .. } | Kind::Break { .. } | Kind::Coil { .. } | Kind::Over { .. } => {
                relay_words(net, &part.mark, volts, fuse)
            }
            Kind::Chopper { .. } | Kind::Bridge { .. } => {
                format!(
                    "{}, {volts:.0} V, at least {:.1} A for a second and {:.1} A for good",
                    part.words,
                    load.stall.get(&AMP),
                    fuse
                )
            }
            Kind::Motor { .. } => continue,
            _ => part.words.clone(),
        };
        out.push(Buy { mark: part.mark.clone(), words, how_many: 1 });
    }
    let gauge = sizes.awg.map_or(String::new(), |n| format!(" (AWG {n})"));
    out.push(Buy {
        mark: "W".into(),
        words: format!(
            "stranded copper wire, PVC, {}{gauge}, red, black, blue, green/yellow",
            sizes.wire.name.replace("mm2", "mm²")
        ),
        how_many: 1,
    });
    out.push(Buy {
        mark: "X1".into(),
        words: "plug and socket, three contacts, one that fits no mains socket".into(),
        how_many: 1,
    });
    out.push(Buy {
        mark: "X2".into(),
        words: "box with lid, screw terminals, cable glands with strain relief".into(),
        how_many: 1,
    });
    out
}

fn contacts(single: usize, over: usize) -> String {
    let many = |n: usize, what: &str| format!("{n} {what} contact{}", if n == 1 { "" } else { "s" });
    match (single, over) {
        (n, 0) => many(n, "plain"),
        (0, n) => many(n, "change-over") + ", break before make",
        (a, b) => format!("{} and {}, break before make", many(a, "plain"), many(b, "change-over")),
    }
}

fn relay_words(net: &Netlist, mark: &str, volts: f64, fuse: f64) -> String {
    let of = |pick: fn(&Kind) -> bool| net.parts.iter().filter(|p| p.mark == mark && pick(&p.kind)).count();
    let (makes, overs) =
        (of(|k| matches!(k, Kind::Make { .. } | Kind::Break { .. })), of(|k| matches!(k, Kind::Over { .. })));
    let slow = if mark == "K4" { "off-delay relay, set to the run-down time" } else { "relay" };
    format!(
        "{slow}, coil {volts:.0} V direct current, {}, for at least {fuse} A direct current",
        contacts(makes, overs)
    )
}

#[cfg(test)]
mod tests {
    use super::super::control::{Turning, spinner};
    use super::*;
    use crate::units::M;

    fn tern_bay() -> Load {
        Load {
            voltage: Q::new(16.0, &VOLT),
            supply: Q::new(3.5, &AMP),
            working: Q::new(0.40, &AMP),
            stall: Q::new(3.2, &AMP),
            stall_hot: Q::new(2.7, &AMP),
            lead: Q::new(1.5, &M),
        }
    }

    #[test]
    fn a_small_spinner() {
        let sizes = choose(&tern_bay()).unwrap();
        assert_eq!(sizes.fuse.get(&AMP), 0.5);
        assert_eq!(sizes.wire.name, "0.5 mm2");
        assert!(sizes.cautions[0].contains("so it opens"));
        let net = spinner(Turning::Relay);
        let list = buy(&net, &tern_bay(), &sizes);
        assert!(list.iter().any(|b| b.mark == "F1" && b.words.contains("0.5 A")));
        assert_eq!(list.iter().filter(|b| b.mark == "K3").count(), 1);
        assert!(list.iter().any(
            |b| b.mark == "K3" && b.words.contains("1 plain contact and 2 change-over contacts, break before make")
        ));
    }

    #[test]
    fn a_fuse_above_a_weak_stall_is_said() {
        let load = Load { working: Q::new(2.0, &AMP), ..tern_bay() };
        assert!(choose(&load).unwrap().cautions[0].contains("not the winding"));
    }

    #[test]
    fn mains_and_nonsense_are_refused() {
        for volts in [230.0, 0.0, -12.0, f64::NAN] {
            let words = choose(&Load { voltage: Q::new(volts, &VOLT), ..tern_bay() }).unwrap_err().to_string();
            assert!(words.contains("not designed with"), "{words}");
        }
        assert!(choose(&Load { supply: Q::new(40.0, &AMP), ..tern_bay() }).unwrap_err().to_string().contains("100 W"));
        assert!(choose(&Load { stall: Q::si(f64::INFINITY), ..tern_bay() }).unwrap_err().to_string().contains("stall"));
    }
}
