//! `bench`: serves the workbench over one plan to this machine's browser, until it is told to stop.

use super::{Answer, Ending};
use crate::web::{self, Serving, phone};
use anstream::println;

/// The command. `open` asks the desktop for its browser.
pub fn bench(serving: &Serving, open: bool) -> Answer {
    begin_again_frugal();
    web::serve(serving, |served| {
        let address = format!("http://{}/", served.address);
        println!("The workbench is at {address} for this machine. Ctrl-C ends it.");
        if let Some(invitation) = &served.invitation {
            println!(
                "\nA phone on the same network scans this, once, within ten minutes; later the Phone page shows a new one."
            );
            println!("Nothing between them is encrypted: only on a network whose users you trust.\n");
            println!("{}\n{invitation}\n", phone::code_in_words(invitation));
        }
        if open {
            browse(&address);
        }
    })?;
    Ok((String::new(), Ending::Done))
}

/// Linux's usual allocator keeps what large buffers held, up to 64 MB a worker, for as long as a program runs; the workbench runs all day
/// beside others. It can be told to hand back what is larger than this many bytes, but only at the start and by its environment: so the
/// program puts itself in its own place, once. Where that fails it goes on as it is.
#[cfg(target_os = "linux")]
fn begin_again_frugal() {
    use std::os::unix::process::CommandExt;
    if std::env::var_os(HAND_BACK).is_none()
        && let Ok(own) = std::env::current_exe()
    {
        let _ = std::process::Command::new(own).args(std::env::args_os().skip(1)).env(HAND_BACK, "1048576").exec();
    }
}

#[cfg(not(target_os = "linux"))]
fn begin_again_frugal() {}

/// Name of that word of the environment.
const HAND_BACK: &str = "MALLOC_MMAP_THRESHOLD_";

/// Opens the desktop's browser; where there is none, the address was printed.
fn browse(address: &str) {
    let opener = if cfg!(target_os = "macos") {
        "open"
    } else if cfg!(windows) {
        "explorer"
    } else {
        "xdg-open"
    };
    let quiet = std::process::Stdio::null;
    let mut opening = std::process::Command::new(opener);
    opening.arg(address).env_remove(HAND_BACK).stdin(quiet()).stdout(quiet()).stderr(quiet());
    let _ = opening.spawn();
}
