//! Only this machine may ask an open server.
//!
//! The listener is on loopback; this also turns away a web page whose own name was made to point at loopback.

use crate::{State, error, telemetry::RequestId};
use actix_web::{
    Error,
    body::{BoxBody, MessageBody},
    dev::{ServiceRequest, ServiceResponse},
    http::header::HOST,
    middleware::Next,
    web::Data,
};
use ellwand_contract::{Problem, ProblemType};
use std::net::IpAddr;

/// Refuses requests that were addressed to another name than this machine's own.
pub(crate) async fn only_this_machine(
    request: ServiceRequest,
    next: Next<impl MessageBody + 'static>,
) -> Result<ServiceResponse<BoxBody>, Error> {
    let host = request
        .headers()
        .get(HOST)
        .map(|value| String::from_utf8_lossy(value.as_bytes()).into_owned());
    match host {
        Some(host) if is_open(&request) && !is_this_machine(&host) => {
            let detail = format!(
                "the request is for the host \"{host}\", but only this machine may use the server"
            );
            let problem = Problem::new(ProblemType::InvalidRequest, detail)
                .field("host")
                .hint("address the server as localhost or 127.0.0.1");
            let response = error::response(problem, &RequestId::of(request.request()));
            Ok(request.into_response(response))
        }
        _ => Ok(next.call(request).await?.map_into_boxed_body()),
    }
}

fn is_open(request: &ServiceRequest) -> bool {
    request
        .app_data::<Data<State>>()
        .is_none_or(|state| state.door.is_open())
}

/// True for `localhost` and loopback addresses, with or without a port.
fn is_this_machine(host: &str) -> bool {
    let name = match host.strip_prefix('[') {
        Some(rest) => rest.split(']').next().unwrap_or_default(),
        None => host.split(':').next().unwrap_or_default(),
    };
    name.eq_ignore_ascii_case("localhost")
        || name
            .parse::<IpAddr>()
            .is_ok_and(|address| address.is_loopback())
}

#[cfg(test)]
mod tests {
    use super::is_this_machine;

    #[test]
    fn only_loopback_names_are_this_machine() {
        for host in [
            "localhost",
            "LocalHost:8417",
            "127.0.0.1",
            "127.0.0.1:1",
            "[::1]",
            "[::1]:8417",
        ] {
            assert!(is_this_machine(host), "{host}");
        }
        for host in [
            "",
            "localhost.example",
            "127.0.0.1.example:80",
            "192.168.0.2",
            "[::2]:1",
            "example:127",
        ] {
            assert!(!is_this_machine(host), "{host}");
        }
    }
}
