//! A book behind a server, asked over HTTP.

use super::{Askable, Fault};
use crate::config::{Config, Token};
use chrono::SecondsFormat;
use ellwand_contract::{
    Method, Outcome, Problem, ProblemType, Sending,
    act::path_fields,
    json, sending,
    version::{self, Version},
};
use reqwest::{
    Certificate, StatusCode, Url,
    blocking::{Client, ClientBuilder, RequestBuilder, Response},
    header::{ACCEPT, AUTHORIZATION, HeaderValue},
    redirect::Policy,
};
use serde_json::{Map, Value};
use std::{error::Error, net::IpAddr, path::Path, time::Duration};

/// To reach the server at all.
const CONNECT: Duration = Duration::from_secs(10);
/// For an answer.
const ANSWER: Duration = Duration::from_secs(60);
/// For an answer that reads the whole ledger.
const LONG_ANSWER: Duration = Duration::from_secs(3600);
/// For the server's version, when something else has already failed.
const VERSION: Duration = Duration::from_secs(3);

/// Pauses before a request without an answer is repeated.
const TRIES: [Duration; 3] = [
    Duration::from_millis(100),
    Duration::from_millis(400),
    Duration::from_millis(1_000),
];

/// Why there is no answer, and whether the request may have arrived.
enum Lost {
    /// The request may have arrived: it may be sent again.
    Answer(Fault),
    /// The server refused, or was not there.
    No(Fault),
}

impl From<Fault> for Lost {
    fn from(fault: Fault) -> Self {
        Self::No(fault)
    }
}

impl From<Lost> for Fault {
    fn from(lost: Lost) -> Self {
        match lost {
            Lost::Answer(fault) | Lost::No(fault) => fault,
        }
    }
}

/// A server.
#[derive(Debug)]
pub struct Remote {
    base: Url,
    client: Client,
    caller: HeaderValue,
    token: Option<HeaderValue>,
}

impl Remote {
    pub(super) fn new(url: &str, config: &Config) -> Result<Self, Fault> {
        let name = &config.name;
        let wrong = |message: String| Fault::Usage {
            message,
            hint: "write it with its scheme, for example http://127.0.0.1:8417".to_owned(),
        };
        let base =
            Url::parse(url).map_err(|error| wrong(format!("\"{url}\" is not a URL: {error}")))?;
        let caller = HeaderValue::from_str(name).map_err(|_| Fault::Usage {
            message: format!("\"{name}\" cannot be sent as a name"),
            hint: "set another `name` in the configuration file".to_owned(),
        })?;
        let secure = base.scheme() == "https";
        let token = config
            .token
            .as_ref()
            .map(|token| bearer(token, &base))
            .transpose()?;
        let mut builder = builder(secure);
        if let Some(path) = config.authority.as_ref().filter(|_| secure) {
            builder = builder.tls_certs_merge(authority(path)?);
        }
        let client = builder.build().map_err(|error| Fault::NotSent {
            message: format!("no connection can be made: {}", chain(&error)),
            hint: None,
        })?;
        Ok(Self {
            base,
            client,
            caller,
            token,
        })
    }

    pub(super) fn send<A: Askable>(
        &self,
        act: &A,
        sending: Sending,
    ) -> Result<Outcome<A::Answer>, Fault> {
        let unreadable = |error: serde_json::Error| Fault::NotSent {
            message: format!("the request cannot be written as JSON: {error}"),
            hint: None,
        };
        let fields = json::tree(act).map_err(unreadable)?;
        let answered = self.ask((A::NAME, A::METHOD, A::PATH), fields, sending);
        let outcome = answered.and_then(|(body, repeated)| {
            let answer = json::read(&body).map_err(|error| self.strange(&error.to_string()))?;
            Ok(Outcome { answer, repeated })
        });
        outcome.map_err(|fault| self.explained(fault))
    }

    /// A failure, with the versions where they can explain it: the server is asked for its own only then.
    fn explained(&self, fault: Fault) -> Fault {
        if !may_be_the_version(&fault) {
            return fault;
        }
        let url = route(&self.base, version::PATH, &mut Map::new());
        let asked = self.client.get(url).timeout(VERSION).send();
        let answer = asked.ok().and_then(|response| response.text().ok());
        let theirs = answer.and_then(|text| json::read::<Version>(&text).ok());
        let own = Version::own(env!("CARGO_PKG_NAME"));
        match theirs.filter(|theirs| theirs.wire != own.wire) {
            Some(theirs) => differ(fault, &own, &theirs),
            None => fault,
        }
    }

    /// Asks with the fields of a request of this name and route; the body of the answer, and whether it was given before.
    fn ask(
        &self,
        (name, method, path): (&str, Method, &str),
        fields: Value,
        sending: Sending,
    ) -> Result<(String, bool), Fault> {
        let Value::Object(mut fields) = fields else {
            return Err(Fault::NotSent {
                message: "the request has no fields".to_owned(),
                hint: None,
            });
        };
        let url = route(&self.base, path, &mut fields);
        let request = match method {
            Method::Get => self.client.get(with_query(url, fields)),
            Method::Post => self.client.post(url).json(&fields),
            Method::Patch => self.client.patch(url).json(&fields),
        };
        let request = match (method, sending.at) {
            (Method::Post | Method::Patch, Some(at)) => request.header(
                sending::SENT_AT,
                at.to_rfc3339_opts(SecondsFormat::Secs, true),
            ),
            _ => request,
        };
        let request = if sending.clock_confirmed {
            request.header(sending::CLOCK, sending::CONFIRMED)
        } else {
            request
        };
        let timeout = if name == "run_audit" {
            LONG_ANSWER
        } else {
            ANSWER
        };
        self.again_and_again(request.timeout(timeout), sending)
    }

    /// Sends a request until it is answered. One without an answer is repeated: a read changes nothing, and a write is booked
    /// once under its id. What is sent again is marked, so that a refusal holds for the earlier sendings as well. A server
    /// that is not there at all, or takes too long, is reported at once.
    fn again_and_again(
        &self,
        request: RequestBuilder,
        sending: Sending,
    ) -> Result<(String, bool), Fault> {
        let marked = |request: RequestBuilder, again| {
            if again {
                request.header(sending::REPEAT, "true")
            } else {
                request
            }
        };
        // What was sent once may have arrived, whatever becomes of the next try.
        let mut sent = false;
        let repeat = sending.repeat;
        let ended = |lost: Lost, sent: bool| match Fault::from(lost) {
            Fault::NotSent { message, hint } if sent => Fault::NoAnswer { message, hint },
            fault => fault,
        };
        for pause in TRIES {
            let Some(again) = request.try_clone() else {
                break;
            };
            match self.answer(marked(again, repeat || sent)) {
                Err(Lost::Answer(_)) => sent = true,
                done => return done.map_err(|lost| ended(lost, sent)),
            }
            std::thread::sleep(pause);
        }
        self.answer(marked(request, repeat || sent))
            .map_err(|lost| ended(lost, sent))
    }

    fn answer(&self, request: RequestBuilder) -> Result<(String, bool), Lost> {
        let request = request
            .header("ellwand-caller", self.caller.clone())
            .header(ACCEPT, "application/json");
        let request = match &self.token {
            Some(token) => request.header(AUTHORIZATION, token.clone()),
            None => request,
        };
        let response = request.send().map_err(|error| self.lost(&error))?;
        if !response.status().is_success() {
            return Err(self.refusal(response));
        }
        let repeated = response
            .headers()
            .get("ellwand-repeated")
            .is_some_and(|value| value == "true");
        let body = response.bytes().map_err(|error| self.lost(&error))?;
        let body =
            String::from_utf8(body.into()).map_err(|error| self.strange(&error.to_string()))?;
        Ok((body, repeated))
    }

    fn refusal(&self, response: Response) -> Lost {
        let status = response.status();
        let body = match response.bytes() {
            Ok(body) => body,
            Err(error) => return self.lost(&error),
        };
        let problem = json::read::<Problem>(&String::from_utf8_lossy(&body));
        let fault = match (status, problem) {
            (_, Ok(problem)) => problem.into(),
            (StatusCode::UNAUTHORIZED | StatusCode::FORBIDDEN, Err(_)) => {
                Fault::NotAllowed(format!("{} does not allow it", self.base))
            }
            (status, Err(_)) => self.strange(&format!("status {status} without a problem")),
        };
        Lost::No(fault)
    }

    fn lost(&self, error: &reqwest::Error) -> Lost {
        let fault = self.unreachable(error);
        if error.is_connect() || error.is_timeout() {
            Lost::No(fault)
        } else {
            Lost::Answer(fault)
        }
    }

    fn unreachable(&self, error: &reqwest::Error) -> Fault {
        let message = if error.is_timeout() {
            format!("{} did not answer in time", self.base)
        } else {
            format!("{} cannot be reached: {}", self.base, chain(error))
        };
        let hint = if chain(error).contains("certificate") {
            "set authority = \"FILE\" in config.toml to the authority that issued its certificate"
        } else {
            "check the address, and that the server is running"
        };
        let hint = Some(hint.to_owned());
        if error.is_connect() {
            Fault::NotSent { message, hint }
        } else {
            Fault::NoAnswer { message, hint }
        }
    }

    fn strange(&self, what: &str) -> Fault {
        Fault::NoAnswer {
            message: format!("the answer of {} cannot be read: {what}", self.base),
            hint: Some(STRANGE.to_owned()),
        }
    }
}

/// What to do about an answer that cannot be read.
const STRANGE: &str = "check that an ellwand-server is running there";

/// True for what a client and a server of different versions tell one another: a field, a filter or a route that one of them
/// does not have, or an answer that the other cannot read.
fn may_be_the_version(fault: &Fault) -> bool {
    match fault {
        Fault::Problem(problem) => matches!(
            problem.kind,
            ProblemType::InvalidRequest | ProblemType::InvalidQuery | ProblemType::NoRoute
        ),
        Fault::NoAnswer { hint, .. } => hint.as_deref() == Some(STRANGE),
        Fault::NotAllowed(_) | Fault::NotSent { .. } | Fault::Usage { .. } => false,
    }
}

/// The same failure, said as what it is.
fn differ(fault: Fault, own: &Version, theirs: &Version) -> Fault {
    let said = |what: &str| {
        format!(
            "this is {} {}, and the server is {} {}: they do not understand one another ({what})",
            own.name, own.version, theirs.name, theirs.version
        )
    };
    let newer = if theirs.wire > own.wire { theirs } else { own };
    let place = if theirs.wire > own.wire {
        "this program"
    } else {
        "the server"
    };
    let todo = format!("update {place} to {}", newer.version);
    match fault {
        Fault::Problem(mut problem) => {
            problem.detail = said(&problem.detail);
            Fault::Problem(Box::new(problem.hint(todo)))
        }
        Fault::NoAnswer { message, .. } => Fault::NoAnswer {
            message: said(&message),
            hint: Some(todo),
        },
        other => other,
    }
}

/// The header of a token; it never travels in the clear to another machine.
fn bearer(token: &Token, base: &Url) -> Result<HeaderValue, Fault> {
    let here = match base.host_str() {
        Some("localhost") => true,
        Some(host) => {
            let host = host.trim_matches(['[', ']']);
            host.parse::<IpAddr>()
                .is_ok_and(|address| address.is_loopback())
        }
        None => false,
    };
    if base.scheme() != "https" && !here {
        return Err(Fault::Usage {
            message: format!(
                "{base} is not encrypted, and the token would travel there in the clear"
            ),
            hint: "use the server's https:// address".to_owned(),
        });
    }
    let mut value =
        HeaderValue::from_str(&format!("Bearer {}", token.0)).map_err(|_| Fault::Usage {
            message: "the token has characters that no token can have".to_owned(),
            hint: "copy all of it: ellwand_ and 64 digits".to_owned(),
        })?;
    value.set_sensitive(true);
    Ok(value)
}

/// The certificates of a file that a server's own may come from.
fn authority(path: &Path) -> Result<Vec<Certificate>, Fault> {
    let read = std::fs::read(path).map_err(|error| error.to_string());
    let some = |all: Vec<Certificate>| {
        if all.is_empty() {
            Err("there is no certificate in it".to_owned())
        } else {
            Ok(all)
        }
    };
    let all =
        read.and_then(|pem| Certificate::from_pem_bundle(&pem).map_err(|error| error.to_string()));
    all.and_then(some).map_err(|cause| Fault::Usage {
        message: format!("the authority {} cannot be used: {cause}", path.display()),
        hint: "name a PEM file with the certificate of the authority in the configuration file"
            .to_owned(),
    })
}

/// Without https no certificate store is read; the cryptography is named, since the client wants one at any rate.
fn builder(secure: bool) -> ClientBuilder {
    // A second call in the same process finds the first one's provider in place.
    let _ = rustls::crypto::ring::default_provider().install_default();
    let builder = Client::builder()
        .user_agent(concat!("ellwand/", env!("CARGO_PKG_VERSION")))
        .connect_timeout(CONNECT)
        .redirect(Policy::none());
    if secure {
        builder.https_only(true)
    } else {
        builder.tls_certs_only([]).no_proxy()
    }
}

/// The URL of a path; its fields are taken out of the request.
fn route(base: &Url, path: &str, fields: &mut Map<String, Value>) -> Url {
    let names: Vec<&str> = path_fields(path).collect();
    let mut url = base.clone();
    if let Ok(mut segments) = url.path_segments_mut() {
        segments.pop_if_empty();
        for part in path.split('/').filter(|part| !part.is_empty()) {
            let name = part.trim_matches(['{', '}']);
            if names.contains(&name) {
                segments.push(&plain(fields.shift_remove(name).unwrap_or_default()));
            } else {
                segments.push(part);
            }
        }
    }
    url
}

fn with_query(mut url: Url, fields: Map<String, Value>) -> Url {
    let fields: Vec<_> = fields
        .into_iter()
        .filter(|(_, value)| !value.is_null())
        .collect();
    if !fields.is_empty() {
        url.query_pairs_mut()
            .extend_pairs(fields.into_iter().map(|(name, value)| (name, plain(value))));
    }
    url
}

fn plain(value: Value) -> String {
    match value {
        Value::String(text) => text,
        other => other.to_string(),
    }
}

/// The last cause: the layers above it only say that a request failed.
fn chain(error: &dyn Error) -> String {
    let mut cause = error;
    while let Some(next) = cause.source() {
        cause = next;
    }
    cause.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn path_fields_leave_the_body_and_are_escaped() {
        let Value::Object(mut fields) = json!({"piece": "L1.2", "take": "1m", "odd": "a/b"}) else {
            unreachable!()
        };
        let base = Url::parse("http://127.0.0.1:8417/").expect("a URL");
        let url = route(&base, "/v1/pieces/{piece}/{odd}", &mut fields);
        assert_eq!(url.as_str(), "http://127.0.0.1:8417/v1/pieces/L1.2/a%2Fb");
        assert_eq!(Value::Object(fields), json!({"take": "1m"}));
    }

    #[test]
    fn what_is_not_said_stays_out_of_the_query() {
        let Value::Object(fields) = json!({"fibre": "linen", "after": null, "limit": 5}) else {
            unreachable!()
        };
        let url = with_query(Url::parse("http://x/v1/shelf").expect("a URL"), fields);
        assert_eq!(url.as_str(), "http://x/v1/shelf?fibre=linen&limit=5");
    }
}
