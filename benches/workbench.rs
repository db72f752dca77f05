//! The workbench under twenty clients: how long a page and an edit take, and how much memory it holds. `cargo bench --bench workbench`
//! prints medians and 95 % points; the goals are 30 ms at the 95 % point for the demo plan and 80 MB.
#![expect(clippy::disallowed_methods, reason = "it measures time, writes a plan and speaks HTTP")]

use clothwright::web::{Serving, serve};
use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::path::Path;
use std::sync::mpsc;
use std::time::{Duration, Instant};

const CLIENTS: usize = 20;

fn send(address: SocketAddr, head: &str, body: &str) {
    let mut stream = TcpStream::connect(address).expect("it listens");
    let long = body.len();
    let request = format!(
        "{head} HTTP/1.1\r\nHost: {address}\r\nOrigin: http://{address}\r\nContent-Type: application/x-www-form-urlencoded\r\n\
         Content-Length: {long}\r\nConnection: close\r\n\r\n{body}"
    );
    stream.write_all(request.as_bytes()).expect("sent");
    let mut bytes = Vec::new();
    stream.read_to_end(&mut bytes).expect("an answer");
    assert!(bytes.starts_with(b"HTTP/1.1 200") || bytes.starts_with(b"HTTP/1.1 303"), "{head}");
}

fn timed(work: impl Fn()) -> Duration {
    let begun = Instant::now();
    work();
    begun.elapsed()
}

fn say(what: &str, mut times: Vec<Duration>) {
    times.sort_unstable();
    let at = |share: f64| times[((times.len() - 1) as f64 * share) as usize].as_secs_f64() * 1000.0;
    println!("{what:44} median {:7.2} ms   95 % point {:7.2} ms   of {}", at(0.5), at(0.95), times.len());
}

/// Memory held, MB, where the system tells.
fn held() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:"))?;
    Some(line.trim().trim_end_matches(" kB").parse::<f64>().ok()? / 1024.0)
}

fn main() {
    let folder = tempfile::tempdir().expect("a folder");
    let plans = Path::new(env!("CARGO_MANIFEST_DIR")).join("plans");
    let plan = folder.path().join("tee.toml");
    std::fs::create_dir_all(folder.path().join("files")).expect("a folder");
    std::fs::copy(plans.join("tern-bay-tee.toml"), &plan).expect("a plan");
    for file in std::fs::read_dir(plans.join("files")).expect("its files").flatten() {
        std::fs::copy(file.path(), folder.path().join("files").join(file.file_name())).expect("a copy");
    }
    let (tell, told) = mpsc::channel();
    let serving = Serving { plan: Some(plan), ..Serving::default() };
    std::thread::spawn(move || serve(&serving, |served| tell.send(served.address).expect("told")));
    let address = told.recv_timeout(Duration::from_secs(60)).expect("it is ready");
    let pages = ["/", "/part/yarn", "/part/warp", "/part/hours", "/bench/threading", "/explain/warp.length"];
    for page in pages {
        send(address, &format!("GET {page}"), "");
    }
    for page in pages {
        say(page, (0..100).map(|_| timed(|| send(address, &format!("GET {page}"), ""))).collect());
    }
    // as a browser does it: the edit, then the page it leads to
    let edits = |key: &str, values: [&str; 2], number: usize| {
        let (mut edits, mut after) = (Vec::new(), Vec::new());
        for at in 0..number {
            let body = format!("key={key}&value={}&part=yarn", values[at % 2].replace(' ', "+"));
            edits.push(timed(|| send(address, "POST /edit", &body)));
            after.push(timed(|| send(address, "GET /part/yarn", "")));
        }
        say(&format!("an edit of {key}"), edits);
        say("    and the page after it", after);
    };
    edits("yarn.warp.twist", ["3.9 TM", "4.0 TM"], 60);
    edits("garment.body.chest", ["98 cm", "99 cm"], 20);
    let all: Vec<Duration> = std::thread::scope(|scope| {
        let client = |n: usize| {
            let page = pages[n % pages.len()];
            move || (0..25).map(|_| timed(|| send(address, &format!("GET {page}"), ""))).collect::<Vec<_>>()
        };
        let clients: Vec<_> = (0..CLIENTS).map(|n| scope.spawn(client(n))).collect();
        clients.into_iter().flat_map(|client| client.join().expect("it ended")).collect()
    });
    say("a page, twenty clients at once", all);
    if let Some(held) = held() {
        println!("{:44} {held:.0} MB, clients and all", "memory held");
    }
}
