use super::super::control::spinner;
use super::*;

fn harms_of(truth: &Truth, words: &str) -> Vec<Harm> {
    let found: Vec<&Finding> = truth.findings.iter().filter(|f| f.words.contains(words)).collect();
    assert!(!found.is_empty(), "no fault called {words:?}");
    found.iter().flat_map(|f| f.harms.clone()).collect()
}

#[test]
fn no_position_shorts_the_supply() {
    for turning in [Turning::Relay, Turning::Bridge] {
        let truth = try_all(&spinner(turning));
        assert!(truth.is_sound(), "{turning:?}: {:?} {}", truth.harms, truth.positions_short);
        assert!(truth.positions >= 1 << 10 && truth.states > 100, "{} {}", truth.positions, truth.states);
        assert!(truth.words().ends_with("Checked for these faults only."));
    }
}

#[test]
fn the_table_runs_only_started_with_the_foot_down() {
    let truth = try_all(&spinner(Turning::Relay));
    assert_eq!(truth.table.len(), 16);
    for row in &truth.table {
        let want = match (row.stop_pushed, row.started, row.pedal_down, row.direction_s) {
            (false, true, true, false) => Runs::Z,
            (false, true, true, true) => Runs::S,
            _ => Runs::Still,
        };
        assert_eq!(row.runs, want, "{row:?}");
    }
}

/// Welded and overlapping contacts, one at a time: the supply is never bridged by the relay circuit, the pedal keeps
/// stopping it, and what a welded stop or run contact can do is said.
#[test]
fn single_faults_of_the_relay_circuit() {
    let truth = try_all(&spinner(Turning::Relay));
    let shorts: Vec<&str> =
        truth.findings.iter().filter(|f| f.harms.contains(&Harm::Short)).map(|f| f.words.as_str()).collect();
    // Only a pierced diode bridges plus and minus, and only with the foot down or the contact above it made.
    assert!(shorts.iter().all(|w| w.ends_with("pierced")), "{shorts:?}");
    assert_eq!(shorts.len(), 5);
    assert!(harms_of(&truth, "S1 stuck at rest").contains(&Harm::RunsThroughStop));
    assert_eq!(harms_of(&truth, "K2 stuck moved"), []);
    assert!(harms_of(&truth, "A1 passes current").is_empty());
    assert!(harms_of(&truth, "K3: all contacts make before they break").is_empty());
    assert!(harms_of(&truth, "S3 stuck moved").contains(&Harm::RunsWithoutFoot));
    let without_foot = truth.findings.iter().filter(|f| f.harms.contains(&Harm::RunsWithoutFoot));
    assert!(without_foot.clone().all(|f| f.words.starts_with("S3") || f.words.starts_with("K4")), "{without_foot:?}");
}

/// Take the slow relay's change-over away (direction straight from its switch): reversing under way is found.
#[test]
fn without_the_slow_relay_reversing_is_found() {
    let mut net = spinner(Turning::Relay);
    let (live, start) = (net.net("3"), net.net("9"));
    net.add("X", "a link in place of the change-over", Kind::Fuse { a: live, b: start });
    let (_, harms) = explore(&net, None);
    assert!(harms.contains(&Harm::ReverseUnderWay), "{harms:?}");
}

/// A bridge leg failed on shorts when told the other way: said, and left to the fuse.
#[test]
fn a_failed_bridge_leg_is_found() {
    let truth = try_all(&spinner(Turning::Bridge));
    assert!(harms_of(&truth, "A1 output a fails on towards plus").contains(&Harm::Short));
}

/// A naive circuit, two make contacts straight over the motor with no interlock, is refused.
#[test]
fn a_careless_circuit_is_caught() {
    let mut n = Netlist { nets: Vec::new(), parts: Vec::new() };
    let [plus, minus, a, b] = ["1", "0", "2", "3"].map(|s| n.net(s));
    n.add("G1", "supply", Kind::Supply { plus, minus });
    n.add("S1", "forward", Kind::Hand { hand: Hand::Pedal, a: plus, b: a, closed_at_rest: false });
    n.add("S1", "forward", Kind::Hand { hand: Hand::Pedal, a: minus, b, closed_at_rest: false });
    n.add("S2", "back", Kind::Hand { hand: Hand::Direction, a: plus, b, closed_at_rest: false });
    n.add("S2", "back", Kind::Hand { hand: Hand::Direction, a: minus, b: a, closed_at_rest: false });
    n.add("M1", "motor", Kind::Motor { a, b });
    let truth = try_all(&n);
    assert!(!truth.is_sound() && truth.positions_short > 0);
    assert!(truth.harms.contains(&Harm::Short));
}
