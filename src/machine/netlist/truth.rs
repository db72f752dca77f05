//! Tries the circuit: every contact position, every order of hands and relays, and single faults one after another.
//!
//! What is assumed, and printed with the result: one fault at a time; a contact in flight lands before another relay leaves
//! (flight takes some 2 ms, a coil 10 ms); a push on the stop lasts till the relays have dropped; the slow relay waits longer than the flyer runs on. What is not tried: wrong
//! wiring, two faults together, heat, damp, loose screws. So the result is "checked for these faults only".

use super::control::{self, Turning};
use super::{Hand, Joined, Kind, Netlist, Part, Relay, Runs, Stand, Throw};
use std::collections::BTreeSet;
use std::sync::OnceLock;

/// A fault tried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// One contact welded or jammed where it stands.
    Stuck { part: usize, at: Throw },
    /// One change-over contact touches both sides on its way.
    Overlap { part: usize },
    /// All change-over contacts of a relay make before they break.
    WrongRelay { relay: Relay },
    /// A relay's coil is dead.
    DeadCoil { relay: Relay },
    /// The speed control passes current whatever it is told.
    ChopperOn,
    /// One switch of the bridge conducts for good: output, high side.
    BridgeOn { leg: usize, high: bool },
    /// A diode conducts both ways.
    Pierced { part: usize },
}

/// What must not happen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Harm {
    /// Metal bridges the supply: only the fuse is left.
    Short,
    /// Current the other way while the flyer still turns.
    ReverseUnderWay,
    /// The motor runs with the foot off.
    RunsWithoutFoot,
    /// The motor runs with the stop pushed in.
    RunsThroughStop,
    /// The motor starts after a stop without the start button.
    StartsByItself,
}

impl Harm {
    /// For the table.
    pub fn words(self) -> &'static str {
        match self {
            Harm::Short => "shorts the supply: the fuse must clear it",
            Harm::ReverseUnderWay => "can reverse while the flyer turns",
            Harm::RunsWithoutFoot => "runs with the foot off: use the stop",
            Harm::RunsThroughStop => "stop does not stop it: lift the foot, pull the plug",
            Harm::StartsByItself => "starts after a stop without the start button",
        }
    }
}

/// A fault and what it led to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    pub fault: Fault,
    pub words: String,
    pub harms: Vec<Harm>,
}

/// One row of the truth table: what hands and feet do, what relays and motor answer when all has settled.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    pub stop_pushed: bool,
    pub started: bool,
    pub pedal_down: bool,
    pub direction_s: bool,
    /// Run, go, turn, wait.
    pub relays: [bool; 4],
    pub runs: Runs,
    pub short: bool,
}

/// All that was tried and found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Truth {
    /// Settled positions by what hands do.
    pub table: Vec<Row>,
    /// Number of contact positions tried with each contact free of its coil, and how many of them short the supply.
    pub positions: usize,
    pub positions_short: usize,
    /// States reached by every order of moves without a fault, and the harms met among them.
    pub states: usize,
    pub harms: Vec<Harm>,
    /// Single faults.
    pub findings: Vec<Finding>,
}

impl Truth {
    /// No harm without a fault, and no position shorts the supply.
    pub fn is_sound(&self) -> bool {
        self.positions_short == 0 && self.harms.is_empty() && self.table.iter().all(|r| !r.short)
    }
    /// What may be said of it.
    pub fn words(&self) -> String {
        let faulty = self.findings.iter().filter(|f| f.harms.contains(&Harm::Short)).count();
        format!(
            "{} contact positions and {} states tried: {} short the supply. {} single faults tried: {} short it (the fuse \
             clears). Checked for these faults only.",
            self.positions,
            self.states,
            if self.is_sound() { "none".to_string() } else { format!("{}", self.positions_short.max(1)) },
            self.findings.len(),
            faulty
        )
    }
}

/// The spinner's own circuit tried; the circuit is the same for every plan, so it is tried once a run of the program.
pub fn of_spinner(turning: Turning) -> &'static Truth {
    static RELAY: OnceLock<Truth> = OnceLock::new();
    static BRIDGE: OnceLock<Truth> = OnceLock::new();
    let kept = match turning {
        Turning::Relay => &RELAY,
        Turning::Bridge => &BRIDGE,
    };
    kept.get_or_init(|| try_all(&control::spinner(turning)))
}

/// Tries a circuit in every way this module knows.
pub fn try_all(net: &Netlist) -> Truth {
    let (states, harms) = explore(net, None);
    let (positions, positions_short) = every_position(net);
    let findings = faults(net)
        .into_iter()
        .map(|fault| Finding { fault, words: words(net, fault), harms: explore(net, Some(fault)).1 })
        .collect();
    Truth { table: table(net), positions, positions_short, states, harms, findings }
}

/// One moment: hands, relays, what turns, what was done.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Moment {
    hands: [bool; 4],
    relays: [Throw; 4],
    spinning: Runs,
    /// The start button was pressed since the last stop.
    armed: bool,
    fault_on: bool,
}

const AT_REST: Moment =
    Moment { hands: [false; 4], relays: [Throw::Rest; 4], spinning: Runs::Still, armed: false, fault_on: false };

fn at<T: PartialEq>(all: &[T], one: T) -> usize {
    all.iter().position(|x| *x == one).unwrap_or(0)
}

/// Where every contact stands at a moment.
fn stand(net: &Netlist, moment: &Moment, fault: Option<Fault>) -> Stand {
    let fault = fault.filter(|_| moment.fault_on);
    let throws = net.parts.iter().enumerate().map(|(i, p)| throw(i, p, moment, fault)).collect();
    Stand {
        throws,
        chopper_stuck_on: fault == Some(Fault::ChopperOn),
        bridge_stuck: match fault {
            Some(Fault::BridgeOn { leg, high }) => Some((leg, high)),
            _ => None,
        },
        diode_pierced: match fault {
            Some(Fault::Pierced { part }) => Some(part),
            _ => None,
        },
    }
}

fn throw(index: usize, part: &Part, moment: &Moment, fault: Option<Fault>) -> Throw {
    let told = match part.kind {
        Kind::Hand { hand, .. } | Kind::HandOver { hand, .. } => {
            if moment.hands[at(&Hand::ALL, hand)] {
                Throw::Moved
            } else {
                Throw::Rest
            }
        }
        Kind::Make { relay, .. } | Kind::Break { relay, .. } | Kind::Over { relay, .. } => {
            moment.relays[at(&Relay::ALL, relay)]
        }
        _ => Throw::Rest,
    };
    match (fault, &part.kind) {
        (Some(Fault::Stuck { part, at }), _) if part == index => at,
        (Some(Fault::Overlap { part }), _) if part == index && told == Throw::Between => Throw::Both,
        (Some(Fault::WrongRelay { relay }), Kind::Over { relay: r, .. }) if relay == *r && told == Throw::Between => {
            Throw::Both
        }
        _ => told,
    }
}

/// Every state reached by any order of moves; the harms among them.
fn explore(net: &Netlist, fault: Option<Fault>) -> (usize, Vec<Harm>) {
    let mut seen = BTreeSet::from([AT_REST]);
    let mut open = vec![AT_REST];
    let mut harms = BTreeSet::new();
    while let Some(moment) = open.pop() {
        let joined = net.joined(&stand(net, &moment, fault));
        for next in nexts(net, &moment, fault, &joined) {
            let (next, met) = settle_motion(net, next, fault);
            harms.extend(met);
            if seen.insert(next.clone()) {
                open.push(next);
            }
        }
    }
    (seen.len(), harms.into_iter().collect())
}

/// What the motor does at a moment, the flyer's motion after it, and the harms in it.
fn settle_motion(net: &Netlist, mut moment: Moment, fault: Option<Fault>) -> (Moment, Vec<Harm>) {
    let joined = net.joined(&stand(net, &moment, fault));
    let runs = net.runs(&joined);
    let mut harms = Vec::new();
    if net.is_short(&joined) {
        harms.push(Harm::Short);
    }
    if runs != Runs::Still {
        if moment.spinning != Runs::Still && moment.spinning != runs {
            harms.push(Harm::ReverseUnderWay);
        }
        let settled = !in_motion(net, &moment, fault, &joined);
        if settled && !moment.hands[at(&Hand::ALL, Hand::Pedal)] {
            harms.push(Harm::RunsWithoutFoot);
        }
        if moment.hands[at(&Hand::ALL, Hand::Stop)] {
            harms.push(Harm::RunsThroughStop);
        }
        if !moment.armed && !moment.hands[at(&Hand::ALL, Hand::Stop)] {
            harms.push(Harm::StartsByItself);
        }
        moment.spinning = runs;
    }
    (moment, harms)
}

/// Whether a relay has still to move.
fn in_motion(net: &Netlist, moment: &Moment, fault: Option<Fault>, joined: &Joined) -> bool {
    Relay::ALL
        .iter()
        .any(|r| goal(net, *r, fault, moment, joined) != moment.relays[at(&Relay::ALL, *r)] && *r != Relay::Wait)
}

fn goal(net: &Netlist, relay: Relay, fault: Option<Fault>, moment: &Moment, joined: &Joined) -> Throw {
    let dead = moment.fault_on && fault == Some(Fault::DeadCoil { relay });
    if net.is_energised(relay, joined) && !dead { Throw::Moved } else { Throw::Rest }
}

fn nexts(net: &Netlist, moment: &Moment, fault: Option<Fault>, joined: &Joined) -> Vec<Moment> {
    let mut out = Vec::new();
    for (i, hand) in Hand::ALL.iter().enumerate() {
        if *hand == Hand::Stop && moment.hands[i] && in_motion(net, moment, fault, joined) {
            continue;
        }
        let mut next = moment.clone();
        next.hands[i] = !next.hands[i];
        match hand {
            Hand::Stop if next.hands[i] => next.armed = false,
            // A start button held down while the stop is let go is a start.
            Hand::Start | Hand::Stop if next.hands[at(&Hand::ALL, Hand::Start)] => {
                next.armed = !next.hands[at(&Hand::ALL, Hand::Stop)];
            }
            _ => {}
        }
        out.push(next);
    }
    if let Some(f) = fault.filter(|f| !moment.fault_on && can_strike(net, moment, *f)) {
        debug_assert!(fault == Some(f));
        out.push(Moment { fault_on: true, ..moment.clone() });
    }
    relay_moves(net, moment, fault, joined, &mut out);
    out
}

fn relay_moves(net: &Netlist, moment: &Moment, fault: Option<Fault>, joined: &Joined, out: &mut Vec<Moment>) {
    let goals = Relay::ALL.map(|r| goal(net, r, fault, moment, joined));
    let flying = moment.relays.contains(&Throw::Between);
    let fast_moving = (0..4).any(|i| Relay::ALL[i] != Relay::Wait && goals[i] != moment.relays[i]);
    for (i, relay) in Relay::ALL.iter().enumerate() {
        let now = moment.relays[i];
        if goals[i] == now || flying && now != Throw::Between {
            continue;
        }
        let slow_drop = *relay == Relay::Wait && now == Throw::Moved;
        if slow_drop && fast_moving {
            continue;
        }
        let mut next = moment.clone();
        next.relays[i] = if now == Throw::Between { goals[i] } else { Throw::Between };
        if slow_drop && net.runs(joined) == Runs::Still {
            next.spinning = Runs::Still;
        }
        out.push(next);
    }
}

/// A contact welds only where it stands.
fn can_strike(net: &Netlist, moment: &Moment, fault: Fault) -> bool {
    match fault {
        Fault::Stuck { part, at } => throw(part, &net.parts[part], moment, None) == at,
        _ => true,
    }
}

/// All positions of all contacts, each contact free of its coil, so that any number of them may be stuck.
fn every_position(net: &Netlist) -> (usize, usize) {
    let contacts: Vec<usize> = (0..net.parts.len()).filter(|i| is_contact(&net.parts[*i].kind)).collect();
    let total = 1usize << contacts.len().min(20);
    let mut short = 0;
    for bits in 0..total {
        let mut throws = vec![Throw::Rest; net.parts.len()];
        for (bit, part) in contacts.iter().enumerate() {
            if bits >> bit & 1 == 1 {
                throws[*part] = Throw::Moved;
            }
        }
        let stand = Stand { throws, chopper_stuck_on: false, bridge_stuck: None, diode_pierced: None };
        short += usize::from(net.is_short(&net.joined(&stand)));
    }
    (total, short)
}

fn is_contact(kind: &Kind) -> bool {
    matches!(
        kind,
        Kind::Hand { .. } | Kind::HandOver { .. } | Kind::Make { .. } | Kind::Break { .. } | Kind::Over { .. }
    )
}

/// The faults tried on this circuit.
fn faults(net: &Netlist) -> Vec<Fault> {
    let mut out = Vec::new();
    for (part, p) in net.parts.iter().enumerate() {
        if is_contact(&p.kind) {
            out.push(Fault::Stuck { part, at: Throw::Rest });
            out.push(Fault::Stuck { part, at: Throw::Moved });
        }
        match p.kind {
            Kind::Over { .. } => out.push(Fault::Overlap { part }),
            Kind::Diode { .. } => out.push(Fault::Pierced { part }),
            Kind::Coil { relay, .. } => out.push(Fault::DeadCoil { relay }),
            Kind::Chopper { .. } => out.push(Fault::ChopperOn),
            Kind::Bridge { .. } => {
                out.extend(
                    [(0, true), (0, false), (1, true), (1, false)].map(|(leg, high)| Fault::BridgeOn { leg, high }),
                );
            }
            _ => {}
        }
    }
    let overs =
        |relay: Relay| net.parts.iter().filter(|p| matches!(p.kind, Kind::Over { relay: r, .. } if r == relay)).count();
    out.extend(Relay::ALL.into_iter().filter(|r| overs(*r) > 1).map(|relay| Fault::WrongRelay { relay }));
    out
}

fn words(net: &Netlist, fault: Fault) -> String {
    let named = |part: usize| {
        let p = &net.parts[part];
        match p.words.split_once(": ") {
            Some((_, contact)) => format!("{} ({contact})", p.mark),
            None => p.mark.clone(),
        }
    };
    let of = |relay: Relay| {
        let coil = net.parts.iter().find(|p| matches!(p.kind, Kind::Coil { relay: r, .. } if r == relay));
        coil.map_or_else(|| "relay".to_string(), |p| p.mark.clone())
    };
    match fault {
        Fault::Stuck { part, at } => {
            let how = if at == Throw::Rest { "stuck at rest" } else { "stuck moved" };
            format!("{} {how}", named(part))
        }
        Fault::Overlap { part } => format!("{} makes before it breaks", named(part)),
        Fault::WrongRelay { relay } => format!("{}: all contacts make before they break", of(relay)),
        Fault::DeadCoil { relay } => format!("{} coil dead", of(relay)),
        Fault::ChopperOn => "A1 passes current whatever it is told".into(),
        Fault::BridgeOn { leg, high } => {
            format!(
                "A1 output {} fails on towards {}",
                if leg == 0 { "a" } else { "b" },
                if high { "plus" } else { "minus" }
            )
        }
        Fault::Pierced { part } => format!("{} pierced", named(part)),
    }
}

/// Settled rows: direction set standing still, then start, pedal, stop.
fn table(net: &Netlist) -> Vec<Row> {
    let mut rows = Vec::new();
    for bits in 0..16u8 {
        let [stop, started, pedal, turned] = [8, 4, 2, 1].map(|b| bits & b != 0);
        let mut moment = AT_REST;
        let press = |moment: &mut Moment, hand: Hand, down: bool| {
            moment.hands[at(&Hand::ALL, hand)] = down;
            *moment = settle(net, moment.clone());
        };
        press(&mut moment, Hand::Direction, turned);
        if started {
            press(&mut moment, Hand::Start, true);
            press(&mut moment, Hand::Start, false);
        }
        press(&mut moment, Hand::Pedal, pedal);
        press(&mut moment, Hand::Stop, stop);
        let joined = net.joined(&stand(net, &moment, None));
        rows.push(Row {
            stop_pushed: stop,
            started,
            pedal_down: pedal,
            direction_s: turned,
            relays: moment.relays.map(|t| t == Throw::Moved),
            runs: net.runs(&joined),
            short: net.is_short(&joined),
        });
    }
    rows
}

/// Lets relays move until nothing does.
fn settle(net: &Netlist, mut moment: Moment) -> Moment {
    // Each relay moves at most twice for a single press; the bound only guards against a circuit that hums.
    for _ in 0..64 {
        let joined = net.joined(&stand(net, &moment, None));
        let mut next = Vec::new();
        relay_moves(net, &moment, None, &joined, &mut next);
        match next.into_iter().next() {
            Some(n) => moment = n,
            None => break,
        }
    }
    moment
}

#[cfg(test)]
mod tests;
