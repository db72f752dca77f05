//! Wiring as nets and parts, and what joins what at each position of each contact.
//!
//! Only extra-low voltage is held here: the supply is a bought, closed, approved box of which this module knows two wires. A
//! circuit is made in [`control`], tried in every position in [`truth`] and sized in [`sizes`].

pub mod control;
pub mod sizes;
pub mod truth;

/// One junction of wires.
pub type Net = usize;

/// What a part is, with its terminals.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// The bought supply: its two wires.
    Supply { plus: Net, minus: Net },
    /// A fuse, or any link that always conducts.
    Fuse { a: Net, b: Net },
    /// A contact moved by hand or foot.
    Hand { hand: Hand, a: Net, b: Net, closed_at_rest: bool },
    /// A change-over contact moved by hand or foot.
    HandOver { hand: Hand, common: Net, rest: Net, moved: Net },
    /// A relay's coil.
    Coil { relay: Relay, a: Net, b: Net },
    /// A make contact of a relay.
    Make { relay: Relay, a: Net, b: Net },
    /// A break contact of a relay.
    Break { relay: Relay, a: Net, b: Net },
    /// A change-over contact of a relay.
    Over { relay: Relay, common: Net, rest: Net, moved: Net },
    /// The speed control: passes plus straight through and switches minus while `enable` stands at plus.
    Chopper { plus: Net, minus: Net, out_plus: Net, out_minus: Net, enable: Net },
    /// An H-bridge: each output to plus or minus, while `enable` stands at plus, by where `direction` stands.
    Bridge { plus: Net, minus: Net, out: [Net; 2], enable: Net, direction: Net },
    /// Conducts from anode to cathode only.
    Diode { anode: Net, cathode: Net },
    /// The motor.
    Motor { a: Net, b: Net },
    /// A capacitor against sparks: no path for steady current.
    Capacitor { a: Net, b: Net },
    /// Bare metal bonded together.
    Earth { net: Net },
}

/// What a hand or foot moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hand {
    /// Latching stop, break contact: at rest it conducts, pushed in it stays open.
    Stop,
    /// Start button, springs back.
    Start,
    /// Foot pedal, springs back.
    Pedal,
    /// Z or S.
    Direction,
}

impl Hand {
    /// All of them, in the order of a state's bits.
    pub const ALL: [Hand; 4] = [Hand::Stop, Hand::Start, Hand::Pedal, Hand::Direction];
}

/// The relays.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Relay {
    /// Holds itself after the start button; drops at stop or when the supply fails.
    Run,
    /// Go: follows the pedal.
    Go,
    /// Turned: picked up for S.
    Turn,
    /// Slow to drop: stays picked up until the flyer has run down.
    Wait,
}

impl Relay {
    /// All of them.
    pub const ALL: [Relay; 4] = [Relay::Run, Relay::Go, Relay::Turn, Relay::Wait];
}

/// A part on the diagram.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// IEC 81346 style mark: F1, S1, K2, V1, M1.
    pub mark: String,
    /// What to ask for in the shop.
    pub words: String,
    pub kind: Kind,
}

/// A circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct Netlist {
    /// Names of the nets, used as wire numbers.
    pub nets: Vec<String>,
    pub parts: Vec<Part>,
}

/// Where a contact stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Throw {
    /// As without current or hand.
    Rest,
    /// On the way: nothing touches.
    Between,
    /// Picked up or pressed.
    Moved,
    /// Both at once: the moving contact reaches the new side before it leaves the old.
    Both,
}

/// Where everything stands: one throw for each part that has contacts, and what the electronic switches do.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Stand {
    /// One for each part, `Rest` where it has no contact.
    pub throws: Vec<Throw>,
    /// The speed control passes current whatever `enable` says.
    pub chopper_stuck_on: bool,
    /// This leg of the bridge (output, high side) passes whatever it is told.
    pub bridge_stuck: Option<(usize, bool)>,
    /// This diode conducts both ways.
    pub diode_pierced: Option<usize>,
}

/// Groups of nets joined without resistance, and the one-way links besides.
pub struct Joined {
    group: Vec<usize>,
    one_way: Vec<(usize, usize)>,
}

impl Joined {
    fn find(&self, net: Net) -> usize {
        let mut at = net;
        while self.group[at] != at {
            at = self.group[at];
        }
        at
    }
    fn join(&mut self, a: Net, b: Net) {
        let (a, b) = (self.find(a), self.find(b));
        self.group[a.max(b)] = a.min(b);
    }
    fn join_if(&mut self, closed: bool, a: Net, b: Net) {
        if closed {
            self.join(a, b);
        }
    }
    /// Whether two nets are one wire.
    pub fn same(&self, a: Net, b: Net) -> bool {
        self.find(a) == self.find(b)
    }
    /// Whether current can go from one net to the other through nothing but contacts, links and diodes the right way round.
    pub fn reaches(&self, from: Net, to: Net) -> bool {
        let mut seen = vec![self.find(from)];
        let mut next = 0;
        while next < seen.len() {
            for (a, b) in &self.one_way {
                let (a, b) = (self.find(*a), self.find(*b));
                if a == seen[next] && !seen.contains(&b) {
                    seen.push(b);
                }
            }
            next += 1;
        }
        seen.contains(&self.find(to))
    }
}

impl Netlist {
    /// The net called `name`, made if new.
    pub fn net(&mut self, name: &str) -> Net {
        match self.nets.iter().position(|n| n == name) {
            Some(at) => at,
            None => {
                self.nets.push(name.to_string());
                self.nets.len() - 1
            }
        }
    }
    /// Adds a part.
    pub fn add(&mut self, mark: &str, words: &str, kind: Kind) {
        self.parts.push(Part { mark: mark.into(), words: words.into(), kind });
    }
    /// The supply's two nets.
    pub fn supply(&self) -> Option<(Net, Net)> {
        self.parts.iter().find_map(|p| match p.kind {
            Kind::Supply { plus, minus } => Some((plus, minus)),
            _ => None,
        })
    }
    /// The motor's two nets.
    pub fn motor(&self) -> Option<(Net, Net)> {
        self.parts.iter().find_map(|p| match p.kind {
            Kind::Motor { a, b } => Some((a, b)),
            _ => None,
        })
    }
    /// What is joined to what at this stand.
    pub fn joined(&self, stand: &Stand) -> Joined {
        let mut joined = Joined { group: (0..self.nets.len()).collect(), one_way: Vec::new() };
        for (index, part) in self.parts.iter().enumerate() {
            self.contact(index, &part.kind, stand, &mut joined);
        }
        // The electronic switches look at what their control wires have been joined to by the contacts.
        let Some((plus, minus)) = self.supply() else { return joined };
        for part in &self.parts {
            match part.kind {
                Kind::Chopper { plus: p, minus: m, out_plus, out_minus, enable } => {
                    joined.join(p, out_plus);
                    joined.one_way.push((m, out_minus));
                    if joined.same(enable, plus) || stand.chopper_stuck_on {
                        joined.join(m, out_minus);
                    }
                }
                Kind::Bridge { plus: p, minus: m, out, enable, direction } => {
                    let told = joined.same(enable, plus) && !joined.same(enable, minus);
                    let turned = joined.same(direction, plus);
                    for (leg, net) in out.into_iter().enumerate() {
                        let high = told && ((leg == 0) != turned);
                        joined.one_way.push((net, p));
                        joined.one_way.push((m, net));
                        if high || stand.bridge_stuck == Some((leg, true)) {
                            joined.join(p, net);
                        }
                        if told && !high || stand.bridge_stuck == Some((leg, false)) {
                            joined.join(m, net);
                        }
                    }
                }
                _ => {}
            }
        }
        joined
    }
    fn contact(&self, index: usize, kind: &Kind, stand: &Stand, joined: &mut Joined) {
        let throw = stand.throws[index];
        match *kind {
            Kind::Fuse { a, b } => joined.join(a, b),
            Kind::Hand { a, b, closed_at_rest, .. } => {
                let closed = match throw {
                    Throw::Both => true,
                    Throw::Between => false,
                    Throw::Rest => closed_at_rest,
                    Throw::Moved => !closed_at_rest,
                };
                joined.join_if(closed, a, b);
            }
            Kind::Make { a, b, .. } => {
                joined.join_if(matches!(throw, Throw::Moved | Throw::Both), a, b);
            }
            Kind::Break { a, b, .. } => {
                joined.join_if(matches!(throw, Throw::Rest | Throw::Both), a, b);
            }
            Kind::HandOver { common, rest, moved, .. } | Kind::Over { common, rest, moved, .. } => {
                joined.join_if(matches!(throw, Throw::Rest | Throw::Both), common, rest);
                joined.join_if(matches!(throw, Throw::Moved | Throw::Both), common, moved);
            }
            Kind::Diode { anode, cathode } => {
                joined.one_way.push((anode, cathode));
                if stand.diode_pierced == Some(index) {
                    joined.join(anode, cathode);
                }
            }
            _ => {}
        }
    }
}

/// What the motor is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Runs {
    /// No voltage.
    Still,
    /// Turning for Z.
    Z,
    /// Turning for S.
    S,
}

impl Netlist {
    /// Whether the supply is bridged by nothing but metal.
    pub fn is_short(&self, joined: &Joined) -> bool {
        self.supply().is_some_and(|(plus, minus)| joined.reaches(plus, minus))
    }
    /// What the motor does.
    pub fn runs(&self, joined: &Joined) -> Runs {
        let (Some((plus, minus)), Some((a, b))) = (self.supply(), self.motor()) else { return Runs::Still };
        if joined.same(plus, minus) {
            // Bridged: no voltage is left.
            Runs::Still
        } else if joined.same(a, plus) && joined.same(b, minus) {
            Runs::Z
        } else if joined.same(b, plus) && joined.same(a, minus) {
            Runs::S
        } else {
            Runs::Still
        }
    }
    /// Whether a relay's coil has the supply across it.
    pub fn is_energised(&self, relay: Relay, joined: &Joined) -> bool {
        let Some((plus, minus)) = self.supply() else { return false };
        self.parts.iter().any(|p| match p.kind {
            Kind::Coil { relay: r, a, b } => r == relay && joined.same(a, plus) && joined.same(b, minus),
            _ => false,
        })
    }
}
