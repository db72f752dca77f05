//! `bench`: serves the workbench over one plan to this machine's browser, until it is told to stop.

use super::{Answer, Ending};
use crate::web::{self, Serving, phone};
use anstream::println;

/// The command. `open` asks the desktop for its browser.
pub fn bench(serving: &Serving, open: bool) -> Answer {
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
    let _ = std::process::Command::new(opener).arg(address).stdin(quiet()).stdout(quiet()).stderr(quiet()).spawn();
}
