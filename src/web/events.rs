//! Every open page sees every change: a stream of one word each time the plan, the log or a counter moves, whoever moved it.

use super::state::Shared;
use axum::extract::State;
use axum::response::sse::{Event, KeepAlive, Sse};
use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;
use tokio_stream::wrappers::WatchStream;
use tokio_stream::{Stream, StreamExt};

/// How often the plan's folder is looked at for changes made elsewhere, while a page is open.
const LOOK: Duration = Duration::from_millis(800);
/// The bell's last stroke.
pub const CLOSED: u64 = u64::MAX;

/// The stream.
pub async fn events(State(shared): State<Arc<Shared>>) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let rings = WatchStream::new(shared.bell.subscribe()).take_while(|rung| *rung != CLOSED);
    let told = rings.map(|rung| Ok(Event::default().event("changed").data(rung.to_string())));
    Sse::new(told).keep_alive(KeepAlive::new().interval(Duration::from_secs(15)))
}

/// Looks at the plan and the log while somebody watches, so that what another program wrote is shown.
pub async fn watch(shared: Arc<Shared>) {
    let mut clock = tokio::time::interval(LOOK);
    clock.set_missed_tick_behavior(tokio::time::MissedTickBehavior::Delay);
    loop {
        clock.tick().await;
        if shared.bell.receiver_count() > 0 {
            let shared = Arc::clone(&shared);
            // taking a change in works the plan out, which is no work for a thread that serves
            let _ = tokio::task::spawn_blocking(move || drop(shared.desk())).await;
        }
    }
}
