//! What is logged: one line a request that can be read alone, no bodies and no customers. An address is logged only of those
//! who were turned away at the door.

use crate::{State, config::LogFormat, health, sign_in::Person};
use actix_web::{
    Error, HttpMessage, HttpRequest,
    body::MessageBody,
    dev::{ServiceRequest, ServiceResponse},
    http::header::{HeaderName, HeaderValue},
    middleware::Next,
    web::Data,
};
use std::{fmt, time::Instant};
use tracing::Instrument;
use tracing_subscriber::{EnvFilter, filter::ParseError};
use uuid::Uuid;

/// Carries the id of a request, both ways.
pub(crate) const REQUEST_ID: HeaderName = HeaderName::from_static("x-request-id");
/// Longest request id taken from a client, in bytes.
const REQUEST_ID_MAX: usize = 64;

/// Id of a request in the log: the client's own when it is well formed, else a UUID v7.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct RequestId(String);

impl RequestId {
    /// The id that was given to a request on arrival.
    pub(crate) fn of(request: &HttpRequest) -> Self {
        request
            .extensions()
            .get()
            .cloned()
            .unwrap_or_else(Self::new)
    }

    pub(crate) fn new() -> Self {
        Self(Uuid::now_v7().to_string())
    }

    fn parse(text: &str) -> Option<Self> {
        let plain = text
            .bytes()
            .all(|byte| byte.is_ascii_alphanumeric() || b"-_.".contains(&byte));
        (plain && !text.is_empty() && text.len() <= REQUEST_ID_MAX).then(|| Self(text.to_owned()))
    }
}

impl fmt::Display for RequestId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Gives the request its id and logs how it ended.
pub(crate) async fn observe(
    request: ServiceRequest,
    next: Next<impl MessageBody>,
) -> Result<ServiceResponse<impl MessageBody>, Error> {
    let begun = Instant::now();
    let sent = request
        .headers()
        .get(REQUEST_ID)
        .and_then(|value| value.to_str().ok());
    let id = sent
        .and_then(RequestId::parse)
        .unwrap_or_else(RequestId::new);
    request.extensions_mut().insert(id.clone());
    let span = tracing::info_span!("request", request.id = %id);
    let state = request.app_data::<Data<State>>().cloned();
    if let Some(state) = &state {
        state.metrics.begin();
    }
    let mut response = next.call(request).instrument(span).await?;
    if let Ok(value) = HeaderValue::from_str(&id.0) {
        response.headers_mut().insert(REQUEST_ID, value);
    }
    if let Some(state) = &state {
        let request = response.request();
        let route = request.match_pattern();
        let status = response.status().as_u16();
        state.metrics.end(
            request.method().as_str(),
            route.as_deref(),
            status,
            begun.elapsed(),
        );
    }
    log(
        &response,
        &id,
        begun,
        state.as_deref().map(|state| &**state),
    );
    Ok(response)
}

fn log<B>(response: &ServiceResponse<B>, id: &RequestId, begun: Instant, state: Option<&State>) {
    let request = response.request();
    // The route and not the path, so that lines can be counted; an unknown path is shown as it came.
    let route = request
        .match_pattern()
        .unwrap_or_else(|| request.path().to_owned());
    let (method, status) = (request.method(), response.status().as_u16());
    let tenths = begun.elapsed().as_micros() / 100;
    let time = f64::from(u32::try_from(tenths).unwrap_or(u32::MAX)) / 10.0;
    // Who is turned away at the door is logged with where they are, and whose token they hold where that is known; of the
    // others their bookings say who they were.
    let address = state
        .filter(|_| matches!(status, 401 | 429))
        .and_then(|state| state.door.address(request));
    let holder = address.and_then(|_| request.extensions().get::<Person>().cloned());
    let who = holder.as_ref().map(|Person(name)| name.as_str());
    let of = who.map(|name| format!(" of {name}")).unwrap_or_default();
    let from = address
        .map(|address| format!("{of} from {address}"))
        .unwrap_or_default();
    macro_rules! line {
        ($level:ident) => {
            tracing::$level!(
                http.method = %method, http.route = %route, http.status = status, duration_ms = time, request.id = %id,
                client.address = address.map(tracing::field::display), client.person = who,
                "{method} {route} -> {status} ({time:.1} ms){from}"
            )
        };
    }
    if route.starts_with(health::PREFIX) {
        line!(debug)
    } else {
        line!(info)
    }
}

/// True where the log is read on a terminal by someone who wants colours (NO_COLOR asks for none, whatever it says, unless empty).
#[expect(clippy::disallowed_methods, reason = "read once, when the log starts")]
fn coloured() -> bool {
    let asked = std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
    asked && std::io::IsTerminal::is_terminal(&std::io::stderr())
}

/// Starts logging to standard error.
///
/// # Errors
/// When the filter cannot be read.
pub(crate) fn start(format: LogFormat, filter: &str) -> Result<(), ParseError> {
    let filter = EnvFilter::try_new(filter)?;
    let builder = tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_writer(std::io::stderr)
        .with_target(false);
    // A logger that is set already (by whoever runs the server in process) stays.
    let _ = match format {
        LogFormat::Text => builder.with_ansi(coloured()).try_init(),
        LogFormat::Json => builder
            .json()
            .flatten_event(true)
            .with_current_span(false)
            .with_span_list(false)
            .try_init(),
    };
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::RequestId;

    #[test]
    fn a_request_id_from_outside_is_short_and_plain_or_not_taken() {
        let longest = "a".repeat(64);
        for text in [
            "0",
            "01926b7e-0000-7000-8000-000000000000",
            "a.b_c-D",
            &longest,
        ] {
            assert!(RequestId::parse(text).is_some(), "{text}");
        }
        let too_long = "a".repeat(65);
        for text in ["", "a b", "a\nb", "a\"b", "ä", &too_long] {
            assert!(RequestId::parse(text).is_none(), "{text}");
        }
    }
}
