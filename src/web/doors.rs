//! Who may come in. This machine's own browser always; another device only over the local network when that was asked for, and only after it
//! has shown a word that works once, read from a code on this machine's screen. It then holds a cookie until the workbench ends.

use std::collections::{BTreeMap, VecDeque};
use std::net::IpAddr;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

/// Devices that are let in at most; the one that came first leaves first.
const MOST_DEVICES: usize = 16;
/// Words that may be tried in a minute, by all together.
const MOST_TRIES: usize = 10;
/// Requests another device may make at once, and then a second.
const BURST: f64 = 120.0;
const A_SECOND: f64 = 40.0;
/// How long a word is good.
const GOOD_FOR: Duration = Duration::from_secs(600);
/// Name of the cookie.
pub const COOKIE: &str = "bench";

/// The doors of one workbench.
pub struct Doors {
    /// Names with port by which other devices reach it; none when it serves this machine alone.
    pub names: Vec<String>,
    port: u16,
    inner: Mutex<Inner>,
}

struct Inner {
    word: String,
    made: Instant,
    inside: VecDeque<String>,
    tries: VecDeque<Instant>,
    buckets: BTreeMap<IpAddr, (f64, Instant)>,
}

/// How a try at the door ended.
#[derive(Debug, PartialEq, Eq)]
pub enum Try {
    /// The cookie's value.
    Welcome(String),
    Wrong,
    /// Too many were tried.
    Wait,
}

impl Doors {
    /// Doors of a workbench at `port`; `names` are the addresses, without port, by which other devices reach it.
    pub fn new(port: u16, names: &[String]) -> Self {
        let inner = Inner {
            word: secret(),
            made: now(),
            inside: VecDeque::new(),
            tries: VecDeque::new(),
            buckets: BTreeMap::new(),
        };
        let names = names.iter().map(|name| format!("{}:{port}", name.to_lowercase())).collect();
        Doors { names, port, inner: Mutex::new(inner) }
    }

    /// Whether this host names this machine to itself.
    pub fn is_own(&self, host: &str) -> bool {
        [format!("127.0.0.1:{}", self.port), format!("localhost:{}", self.port)].iter().any(|own| own == host)
    }

    /// Whether this host is one by which other devices reach it.
    pub fn is_lan(&self, host: &str) -> bool {
        self.names.iter().any(|name| name.eq_ignore_ascii_case(host))
    }

    /// The word that lets the next device in, and the address to open with it; none when it serves this machine alone.
    pub fn invitation(&self) -> Option<String> {
        let name = self.names.first()?;
        let mut inner = self.lock();
        if inner.made.elapsed() > GOOD_FOR {
            inner.renew();
        }
        Some(format!("http://{name}/join?word={}", inner.word))
    }

    /// A device shows a word. It works once.
    pub fn try_word(&self, word: &str) -> Try {
        let mut inner = self.lock();
        let now = now();
        inner.tries.retain(|at| now.duration_since(*at) < Duration::from_secs(60));
        if inner.tries.len() >= MOST_TRIES {
            return Try::Wait;
        }
        inner.tries.push_back(now);
        if inner.made.elapsed() > GOOD_FOR || !same(word.as_bytes(), inner.word.as_bytes()) {
            return Try::Wrong;
        }
        inner.renew();
        let cookie = secret();
        if inner.inside.len() == MOST_DEVICES {
            inner.inside.pop_front();
        }
        inner.inside.push_back(cookie.clone());
        Try::Welcome(cookie)
    }

    /// Whether a cookie header holds a device that is inside.
    pub fn knows(&self, header: &str) -> bool {
        let inner = self.lock();
        header.split(';').filter_map(|one| one.trim().strip_prefix(COOKIE)?.strip_prefix('=')).any(|value| {
            // every comparison takes as long whatever it finds
            inner.inside.iter().filter(|cookie| same(value.as_bytes(), cookie.as_bytes())).count() > 0
        })
    }

    /// Whether another device may ask once more now.
    pub fn may_ask(&self, peer: IpAddr) -> bool {
        let mut inner = self.lock();
        let now = now();
        if inner.buckets.len() > 1000 {
            inner.buckets.clear();
        }
        let (left, at) = inner.buckets.entry(peer).or_insert((BURST, now));
        *left = (*left + now.duration_since(*at).as_secs_f64() * A_SECOND).min(BURST);
        *at = now;
        let may = *left >= 1.0;
        if may {
            *left -= 1.0;
        }
        may
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, Inner> {
        self.inner.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Inner {
    fn renew(&mut self) {
        self.word = secret();
        self.made = now();
    }
}

#[expect(clippy::disallowed_methods, reason = "a word grows old by the clock")]
fn now() -> Instant {
    Instant::now()
}

/// 128 bits that nobody guesses, as letters and digits.
pub fn secret() -> String {
    let mut bytes = [0; 16];
    getrandom::fill(&mut bytes).expect("the system has random bytes");
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Compares in a time that does not tell where they differ.
fn same(a: &[u8], b: &[u8]) -> bool {
    a.len() == b.len() && a.iter().zip(b).fold(0, |all, (x, y)| all | (x ^ y)) == 0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn word(doors: &Doors) -> String {
        doors.invitation().expect("it has a name").split_once("word=").expect("a word").1.to_string()
    }

    #[test]
    fn a_word_works_once_and_guesses_are_few() {
        let doors = Doors::new(4040, &["192.0.2.7".into()]);
        assert!(doors.is_lan("192.0.2.7:4040") && !doors.is_lan("192.0.2.7:80") && !doors.is_own("192.0.2.7:4040"));
        let first = word(&doors);
        let Try::Welcome(cookie) = doors.try_word(&first) else { panic!("the word is good") };
        assert!(doors.knows(&format!("x=1; {COOKIE}={cookie}")) && !doors.knows(&format!("{COOKIE}={first}")));
        assert_ne!(word(&doors), first);
        for _ in 1..MOST_TRIES {
            assert_eq!(doors.try_word(&first), Try::Wrong);
        }
        // even the right word has to wait now
        assert_eq!(doors.try_word(&word(&doors)), Try::Wait);
    }

    #[test]
    fn the_oldest_device_leaves_when_the_bench_is_full() {
        let doors = Doors::new(4040, &["bench.example".into()]);
        let enter = || {
            doors.lock().tries.clear();
            match doors.try_word(&word(&doors)) {
                Try::Welcome(cookie) => format!("{COOKIE}={cookie}"),
                other => panic!("{other:?}"),
            }
        };
        let all: Vec<String> = (0..=MOST_DEVICES).map(|_| enter()).collect();
        assert!(!doors.knows(&all[0]) && all[1..].iter().all(|cookie| doors.knows(cookie)));
    }

    #[test]
    fn a_device_that_asks_too_fast_waits() {
        let doors = Doors::new(4040, &[]);
        assert!(doors.invitation().is_none());
        let peer = IpAddr::from([192, 0, 2, 9]);
        assert!((0..BURST as usize).all(|_| doors.may_ask(peer)));
        assert!((0..50).any(|_| !doors.may_ask(peer)));
        assert!(doors.may_ask(IpAddr::from([192, 0, 2, 10])));
    }
}
