//! The spinner's circuit: stop, start, pedal, direction, speed.
//!
//! Power: supply, fuse F1 next to it, latching stop S1, run relay K1, go relay K2, then the speed control A1 and the turn
//! relay K3 (or an H-bridge A1 that does both). Control: the start button makes K1 hold itself; the pedal picks up the slow
//! relay K4 at once, which lets K2 and the speed control go; K3 can only change while K4 has dropped, which it does when the
//! flyer has had time to run down. So direction is changed standing still by wire, not by good will, nothing starts again by
//! itself after a stop, nor at all before the flyer has run down, and the pedal's plug carries no motor current. K4 must keep
//! its time without supply (true off-delay).

use super::{Hand, Kind, Netlist, Relay};

/// How the direction is turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turning {
    /// Two change-over contacts of a relay after the speed control.
    Relay,
    /// A bought H-bridge board that also sets the speed.
    Bridge,
}

/// The circuit.
pub fn spinner(turning: Turning) -> Netlist {
    let mut n = Netlist { nets: Vec::new(), parts: Vec::new() };
    power(&mut n);
    control(&mut n);
    match turning {
        Turning::Relay => turn_by_relay(&mut n),
        Turning::Bridge => turn_by_bridge(&mut n),
    }
    let earth = n.net("E");
    n.add(
        "E1",
        "bonding: bare metal of frame, motor case and box joined by one green/yellow wire; not to minus",
        Kind::Earth { net: earth },
    );
    n
}

fn power(n: &mut Netlist) {
    let [plus, minus, fused, live, run, go] = ["1", "0", "2", "3", "4", "5"].map(|name| n.net(name));
    n.add("G1", "bought supply, closed and approved, extra-low voltage", Kind::Supply { plus, minus });
    n.add("F1", "fuse, time-lag, in a holder next to the supply", Kind::Fuse { a: plus, b: fused });
    n.add(
        "S1",
        "stop, red mushroom head, latching, break contact, in easy reach",
        Kind::Hand { hand: Hand::Stop, a: fused, b: live, closed_at_rest: true },
    );
    n.add("K1", "run relay, 2 make contacts", Kind::Make { relay: Relay::Run, a: live, b: run });
    n.add("K2", "go relay, 1 make contact", Kind::Make { relay: Relay::Go, a: run, b: go });
}

fn control(n: &mut Netlist) {
    let [minus, live, run, hold, pedal, goes, start_turn, turn] =
        ["0", "3", "4", "6", "7", "8", "9", "10"].map(|name| n.net(name));
    let (ready, fused) = (n.net("16"), n.net("2"));
    n.add(
        "K4",
        "slow relay: no start before the flyer has run down",
        Kind::Break { relay: Relay::Wait, a: live, b: ready },
    );
    n.add(
        "S2",
        "start, green push button, springs back",
        Kind::Hand { hand: Hand::Start, a: ready, b: hold, closed_at_rest: false },
    );
    n.add("K1", "run relay: holds itself", Kind::Make { relay: Relay::Run, a: live, b: hold });
    n.add("K1", "run relay: coil", Kind::Coil { relay: Relay::Run, a: hold, b: minus });
    n.add("V1", "diode over coil K1", Kind::Diode { anode: minus, cathode: hold });
    n.add(
        "S3",
        "foot pedal, normally open, springs back, on a three-contact plug (two poles and the bonding wire)",
        Kind::Hand { hand: Hand::Pedal, a: run, b: pedal, closed_at_rest: false },
    );
    n.add("K4", "slow relay, off-delay: coil", Kind::Coil { relay: Relay::Wait, a: pedal, b: minus });
    n.add("V4", "diode over coil K4", Kind::Diode { anode: minus, cathode: pedal });
    n.add("K4", "slow relay: lets go through", Kind::Make { relay: Relay::Wait, a: pedal, b: goes });
    n.add("K2", "go relay: coil", Kind::Coil { relay: Relay::Go, a: goes, b: minus });
    n.add("V2", "diode over coil K2", Kind::Diode { anode: minus, cathode: goes });
    // Direction: from the switch while K4 has dropped, from K3's own contact while it has not. Fed before the stop, so that a
    // push on the stop does not let the turn relay fall while the flyer turns.
    let kept = n.net("11");
    n.add(
        "K4",
        "slow relay: change-over",
        Kind::Over { relay: Relay::Wait, common: fused, rest: start_turn, moved: kept },
    );
    n.add(
        "S4",
        "direction switch Z / S, latching",
        Kind::Hand { hand: Hand::Direction, a: start_turn, b: turn, closed_at_rest: false },
    );
    n.add("K3", "turn relay: keeps itself", Kind::Make { relay: Relay::Turn, a: kept, b: turn });
    n.add("K3", "turn relay: coil", Kind::Coil { relay: Relay::Turn, a: turn, b: minus });
    n.add("V3", "diode over coil K3", Kind::Diode { anode: minus, cathode: turn });
}

fn turn_by_relay(n: &mut Netlist) {
    let [minus, go, enable, out_plus, out_minus, a, b] =
        ["0", "5", "8", "12", "13", "14", "15"].map(|name| n.net(name));
    n.add(
        "A1",
        "speed control, pulse width, with an enable wire",
        Kind::Chopper { plus: go, minus, out_plus, out_minus, enable },
    );
    n.add("V5", "suppression diode over the motor lines, fast", Kind::Diode { anode: out_minus, cathode: out_plus });
    n.add(
        "K3",
        "turn relay, break before make: motor wire a",
        Kind::Over { relay: Relay::Turn, common: a, rest: out_plus, moved: out_minus },
    );
    n.add(
        "K3",
        "turn relay, break before make: motor wire b",
        Kind::Over { relay: Relay::Turn, common: b, rest: out_minus, moved: out_plus },
    );
    motor(n, a, b);
}

fn turn_by_bridge(n: &mut Netlist) {
    let [minus, go, enable, turn, a, b] = ["0", "5", "8", "10", "14", "15"].map(|name| n.net(name));
    n.add(
        "A1",
        "H-bridge board with dead time, current limit, enable and direction wires",
        Kind::Bridge { plus: go, minus, out: [a, b], enable, direction: turn },
    );
    motor(n, a, b);
}

fn motor(n: &mut Netlist, a: usize, b: usize) {
    n.add("M1", "motor", Kind::Motor { a, b });
    n.add("C1", "100 nF across the brushes, against sparks heard on the radio", Kind::Capacitor { a, b });
}
