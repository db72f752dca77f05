//! What every request must pass: it names this machine as its host, a change comes from our own page, and every answer says how little a
//! page of ours may load.

use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

/// Nothing from elsewhere, no inline script or style, no frame, no plug-in.
const POLICY: &str = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; connect-src 'self'; form-action 'self'; \
                      frame-ancestors 'none'; base-uri 'none'";

/// Turns away what does not come from this machine's own pages, and marks what does.
pub async fn guard(State(port): State<u16>, request: Request, next: Next) -> Response {
    if !own_host(request.headers(), port) {
        return (StatusCode::MISDIRECTED_REQUEST, "This workbench answers only by the name it was started on.\n")
            .into_response();
    }
    let changes = request.method() != Method::GET && request.method() != Method::HEAD;
    if changes && !own_origin(request.headers(), port) {
        return (StatusCode::FORBIDDEN, "A change must come from the workbench's own page.\n").into_response();
    }
    let mut answer = next.run(request).await;
    let headers = answer.headers_mut();
    let mut put = |name, value| headers.insert(name, HeaderValue::from_static(value));
    put(header::CONTENT_SECURITY_POLICY, POLICY);
    put(header::X_CONTENT_TYPE_OPTIONS, "nosniff");
    put(header::REFERRER_POLICY, "same-origin");
    put(header::CACHE_CONTROL, "no-store");
    answer
}

fn own_host(headers: &HeaderMap, port: u16) -> bool {
    let host = headers.get(header::HOST).and_then(|host| host.to_str().ok()).unwrap_or("");
    [format!("127.0.0.1:{port}"), format!("localhost:{port}")].iter().any(|own| own == host)
}

/// A browser names the page a form was sent from; a form without that name is not ours.
fn own_origin(headers: &HeaderMap, port: u16) -> bool {
    let origin = headers.get(header::ORIGIN).and_then(|origin| origin.to_str().ok()).unwrap_or("");
    [format!("http://127.0.0.1:{port}"), format!("http://localhost:{port}")].iter().any(|own| own == origin)
}
