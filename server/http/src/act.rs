//! The one adapter between HTTP and the acts of the contract.

use crate::{
    State, error, input, openapi, router::reading, sign_in, sign_in::Who, telemetry::RequestId,
};
use actix_web::{
    HttpRequest, HttpResponse, Resource, Route,
    http::{
        StatusCode,
        header::{ContentType, ETAG, HeaderName},
    },
    rt::time::sleep,
    web::{self, Data, Payload},
};
use chrono::{DateTime, Utc};
use ellwand_contract::{Method, Problem, ProblemType, Sending, access::Access, sending};
use ellwand_service::Perform;
use std::{
    collections::BTreeMap,
    sync::{Arc, atomic::Ordering},
    time::{Duration, Instant},
};
use tracing::Span;
use utoipa::ToSchema;

/// `true` on the answer to a request that was already booked.
pub(crate) const REPEATED: HeaderName = HeaderName::from_static("ellwand-repeated");
/// Pause between two looks for news. Any process may book them, and none notifies another.
const LOOK_AGAIN: Duration = Duration::from_millis(300);

/// One act in the table.
#[derive(Debug, Clone)]
pub struct Entry {
    /// Its name in the contract.
    pub name: &'static str,
    /// Its method.
    pub method: Method,
    /// Its path, with `{field}` for fields.
    pub path: &'static str,
    /// What a person must be allowed to do.
    pub access: Access,
    route: fn() -> Route,
    pub(crate) describe: fn() -> openapi::Described,
}

/// The acts a server answers.
#[derive(Debug, Clone, Default)]
pub struct Table {
    entries: Vec<Entry>,
}

impl Table {
    /// Adds an act.
    #[must_use]
    pub fn act<A>(mut self) -> Self
    where
        A: Perform + ToSchema,
        A::Answer: ToSchema,
    {
        self.entries.push(Entry {
            name: A::NAME,
            method: A::METHOD,
            path: A::PATH,
            access: A::ACCESS,
            route: route::<A>,
            describe: openapi::describe::<A>,
        });
        self
    }

    /// All acts, in the order of the table.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// One resource per path. A fixed word goes before a field in the same place, so that `/v1/bookings/last` is never
    /// taken for a booking's code.
    pub(crate) fn resources(&self) -> impl Iterator<Item = Resource> {
        let mut by_path: BTreeMap<Vec<(bool, &str)>, Vec<&Entry>> = BTreeMap::new();
        for entry in &self.entries {
            let key = entry
                .path
                .split('/')
                .map(|part| (part.starts_with('{'), part))
                .collect();
            by_path.entry(key).or_default().push(entry);
        }
        by_path.into_values().map(|entries| resource(&entries))
    }
}

fn resource(entries: &[&Entry]) -> Resource {
    let words = entries.iter().map(|entry| match entry.method {
        Method::Get => "GET, HEAD",
        Method::Post => "POST",
        Method::Patch => "PATCH",
    });
    let allow = words.collect::<Vec<_>>().join(", ");
    let path = entries.first().map_or("", |entry| entry.path);
    let resource = entries
        .iter()
        .fold(web::resource(path), |all, entry| all.route((entry.route)()));
    resource.default_service(web::to(move |request| {
        error::wrong_method(request, allow.clone())
    }))
}

fn route<A: Perform>() -> Route {
    match A::METHOD {
        Method::Get => reading(),
        Method::Post => web::post(),
        Method::Patch => web::patch(),
    }
    .to(answer::<A>)
}

async fn answer<A: Perform>(
    request: HttpRequest,
    payload: Payload,
    state: Data<State>,
) -> HttpResponse {
    match perform::<A>(&request, payload, &state).await {
        Ok(response) => response,
        Err(problem) => error::response(*problem, &RequestId::of(&request)),
    }
}

async fn perform<A: Perform>(
    request: &HttpRequest,
    payload: Payload,
    state: &Data<State>,
) -> Result<HttpResponse, Box<Problem>> {
    // The caller is checked before the request, and before the body is waited for.
    let who = sign_in::who(request, state).await?;
    let act: A = match input::read_act(request, payload, state.body_limit).await {
        Ok(act) => act,
        Err(problem) => return Err(who.check(state).await.err().unwrap_or(problem)),
    };
    let until = Instant::now() + Duration::from_secs(act.patience_s().into());
    let call = Arc::new((who, act, sending(request)?));
    let (repeated, version, body) = loop {
        let answer = once(state, &call).await?;
        if answer.news || Instant::now() >= until || state.stopping.load(Ordering::Relaxed) {
            break (answer.repeated, answer.version, answer.body);
        }
        sleep(LOOK_AGAIN).await;
    };
    let new = A::METHOD == Method::Post && !repeated && !call.1.is_trial();
    let mut response = HttpResponse::build(if new {
        StatusCode::CREATED
    } else {
        StatusCode::OK
    });
    if repeated {
        response.insert_header((REPEATED, "true"));
    }
    if let Some(version) = version {
        response.insert_header((ETAG, format!("\"{version}\"")));
    }
    Ok(response.insert_header(ContentType::json()).body(body))
}

/// How a request was sent, by its headers.
fn sending(request: &HttpRequest) -> Result<Sending, Box<Problem>> {
    let is = |name: &str, wanted: &str| {
        request
            .headers()
            .get(name)
            .is_some_and(|value| value == wanted)
    };
    let at = request.headers().get(sending::SENT_AT).map(|value| {
        let time = value
            .to_str()
            .ok()
            .and_then(|text| text.parse::<DateTime<Utc>>().ok());
        time.ok_or_else(|| {
            Problem::new(
                ProblemType::InvalidValue,
                format!("the header {} is not a time", sending::SENT_AT),
            )
            .field(sending::SENT_AT)
            .hint("write it as 2026-10-05T09:00:00Z, or leave it out")
        })
    });
    Ok(Sending {
        repeat: is(sending::REPEAT, "true"),
        at: at.transpose()?,
        clock_confirmed: is(sending::CLOCK, sending::CONFIRMED),
    })
}

/// Result of an act.
struct Answered {
    repeated: bool,
    news: bool,
    version: Option<String>,
    body: Vec<u8>,
}

/// Performs an act once, on a thread that may wait for the database.
async fn once<A: Perform>(
    state: &Data<State>,
    call: &Arc<(Who, A, Sending)>,
) -> Result<Answered, Box<Problem>> {
    let (state, call, span) = (state.clone(), Arc::clone(call), Span::current());
    let work = move || {
        span.in_scope(|| {
            let (who, act, sending) = &*call;
            let outcome = who.call(act, *sending, &state)?;
            let body = serde_json::to_vec(&outcome.answer).map_err(|error| {
                Problem::new(
                    ProblemType::Internal,
                    format!("an answer did not serialise: {error}"),
                )
            })?;
            let (news, version) = (A::has_news(&outcome.answer), A::version(&outcome.answer));
            Ok::<_, Box<Problem>>(Answered {
                repeated: outcome.repeated,
                news,
                version,
                body,
            })
        })
    };
    web::block(work).await.map_err(|_| {
        Problem::new(
            ProblemType::Internal,
            "the act panicked or the threads are gone",
        )
    })?
}
