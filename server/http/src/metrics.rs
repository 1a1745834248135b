//! Figures of a server process for Prometheus, in the OpenMetrics text format.

use crate::{State, error, sign_in, telemetry::RequestId};
use actix_web::{
    HttpRequest, HttpResponse,
    web::{self, Data},
};
use ellwand_contract::{Problem, ProblemType, Sending, people::GetSelf};
use ellwand_service::Written;
use prometheus_client::{
    encoding::{EncodeLabelSet, text::encode},
    metrics::{
        counter::{ConstCounter, Counter},
        family::Family,
        gauge::Gauge,
        histogram::{Histogram, exponential_buckets},
    },
    registry::Registry,
};
use std::time::Duration;

/// Media type of the text format.
const OPEN_METRICS: &str = "application/openmetrics-text; version=1.0.0; charset=utf-8";
/// Route of requests that no route has: their paths would be without number.
const NO_ROUTE: &str = "none";

#[derive(Debug, Clone, PartialEq, Eq, Hash, EncodeLabelSet)]
struct Answered {
    method: String,
    route: String,
    status: u16,
}

#[derive(Debug, Clone, PartialEq, Eq, Hash, EncodeLabelSet)]
struct Routed {
    route: String,
}

/// What is counted of a process.
#[derive(Debug)]
pub(crate) struct Metrics {
    answered: Family<Answered, Counter>,
    took: Family<Routed, Histogram>,
    under_way: Gauge,
}

impl Metrics {
    pub(crate) fn new() -> Self {
        // 1 ms, doubled up to 16 s.
        let histogram = || Histogram::new(exponential_buckets(0.001, 2.0, 15));
        Self {
            answered: Family::default(),
            took: Family::new_with_constructor(histogram),
            under_way: Gauge::default(),
        }
    }

    pub(crate) fn begin(&self) {
        self.under_way.inc();
    }

    pub(crate) fn end(&self, method: &str, route: Option<&str>, status: u16, took: Duration) {
        self.under_way.dec();
        let route = route.unwrap_or(NO_ROUTE).to_owned();
        let labels = Answered {
            method: method.to_owned(),
            route: route.clone(),
            status,
        };
        self.answered.get_or_create(&labels).inc();
        self.took
            .get_or_create(&Routed { route })
            .observe(took.as_secs_f64());
    }

    /// The figures as text.
    fn text(&self, written: Written) -> Result<String, std::fmt::Error> {
        let mut registry = Registry::with_prefix("ellwand");
        registry.register("requests", "Requests answered", self.answered.clone());
        registry.register("request_seconds", "Time they took", self.took.clone());
        registry.register(
            "requests_under_way",
            "Requests being answered",
            self.under_way.clone(),
        );
        let (writes, commits) = (
            ConstCounter::new(written.jobs),
            ConstCounter::new(written.commits),
        );
        registry.register("writes", "Acts written by this process", writes);
        registry.register(
            "commits",
            "Commits they took; acts that wait share one",
            commits,
        );
        let mut text = String::new();
        encode(&mut text, &registry)?;
        Ok(text)
    }
}

/// Tells the figures to anyone who is signed in.
pub(crate) async fn metrics(request: HttpRequest, state: Data<State>) -> HttpResponse {
    match figures(&request, state).await {
        Ok(text) => HttpResponse::Ok().content_type(OPEN_METRICS).body(text),
        Err(problem) => error::response(*problem, &RequestId::of(&request)),
    }
}

async fn figures(request: &HttpRequest, state: Data<State>) -> Result<String, Box<Problem>> {
    let who = sign_in::who(request, &state).await?;
    let failed = |_| {
        Box::new(Problem::new(
            ProblemType::Internal,
            "the figures cannot be written",
        ))
    };
    let shared = state.clone();
    web::block(move || who.call(&GetSelf {}, Sending::default(), &shared))
        .await
        .map_err(|error| failed(error.to_string()))??;
    state
        .metrics
        .text(state.book.written())
        .map_err(|error| failed(error.to_string()))
}
