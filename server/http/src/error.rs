//! Problems as responses.

use crate::telemetry::RequestId;
use actix_web::{
    HttpRequest, HttpResponse,
    http::{
        StatusCode,
        header::{ALLOW, CONTENT_TYPE, RETRY_AFTER, WWW_AUTHENTICATE},
    },
};
use ellwand_contract::{Problem, ProblemType, problem::BECAUSE};
use serde_json::Value;

/// Media type of a problem (RFC 9457).
pub(crate) const PROBLEM_JSON: &str = "application/problem+json";

/// The response for a problem. The cause of a server's failure is logged here, once, and not sent.
pub(crate) fn response(problem: Problem, id: &RequestId) -> HttpResponse {
    let mut problem = if problem.status >= 500 {
        failure(&problem, id)
    } else {
        problem
    };
    problem.instance = Some(id.to_string());
    let status = StatusCode::from_u16(problem.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
    let mut response = HttpResponse::build(status);
    response.insert_header((CONTENT_TYPE, PROBLEM_JSON));
    if status == StatusCode::UNAUTHORIZED {
        response.insert_header((WWW_AUTHENTICATE, "Bearer"));
    }
    if let Some(seconds) = problem.numbers.get("retry_after_s").and_then(Value::as_u64) {
        response.insert_header((RETRY_AFTER, seconds));
    }
    response.body(json(&problem))
}

fn json(problem: &Problem) -> String {
    serde_json::to_string(problem)
        .expect("a problem is texts, numbers and JSON values, which serialise")
}

/// Logs a failure and puts what may be sent in its place.
fn failure(problem: &Problem, id: &RequestId) -> Problem {
    tracing::error!(request.id = %id, problem.kind = problem.kind.slug(), cause = %problem.detail, "failed");
    let (detail, hint) = match problem.kind {
        ProblemType::Unavailable => (
            "the book cannot be reached just now",
            "try again: the same request with the same id is safe to repeat",
        ),
        ProblemType::NewerSchema => (
            "the book was written by a newer program than this server",
            "update the server",
        ),
        ProblemType::NotABook => (
            "the database that the server opens is not a book",
            "check the server's database URL",
        ),
        _ => (
            "the server failed on this request; the cause is in its log under the request's id",
            "the same request with the same id is safe to repeat",
        ),
    };
    // A fault of the book's own disk is passed on: it reveals nothing that others must not know, and its hint helps.
    let reported = problem.numbers.get(BECAUSE).map(|_| problem.clone());
    let mut sent = reported.unwrap_or_else(|| Problem::new(problem.kind, detail).hint(hint));
    sent.status = problem.status;
    sent
}

/// Answers for paths that no route has.
pub(crate) async fn no_such_route(request: HttpRequest) -> HttpResponse {
    let detail = format!("there is no route {}", request.path());
    let problem = Problem::new(ProblemType::NoRoute, detail)
        .hint("all routes are listed in /v1/openapi.json");
    response(problem, &RequestId::of(&request))
}

/// Answers for a path that has no route of this method.
pub(crate) async fn wrong_method(request: HttpRequest, allow: impl Into<String>) -> HttpResponse {
    let allow = allow.into();
    let detail = format!("{} does not take {}", request.path(), request.method());
    let mut problem = Problem::new(ProblemType::NoRoute, detail).hint(format!("it takes {allow}"));
    problem.status = StatusCode::METHOD_NOT_ALLOWED.as_u16();
    let mut response = response(problem, &RequestId::of(&request));
    if let Ok(value) = allow.parse() {
        response.headers_mut().insert(ALLOW, value);
    }
    response
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test that unwraps nothing has failed")]
mod tests {
    use super::failure;
    use crate::telemetry::RequestId;
    use ellwand_contract::{Problem, ProblemType};

    #[test]
    fn the_cause_of_a_failure_is_not_sent() {
        let id = RequestId::new();
        for kind in ProblemType::ALL.iter().filter(|kind| kind.status() >= 500) {
            let cause = Problem::new(*kind, "disk /srv/secret is full")
                .hint("/srv/secret")
                .field("secret")
                .with("secret", 1);
            let sent = serde_json::to_string(&failure(&cause, &id)).unwrap();
            assert!(
                sent.contains(kind.slug()) && !sent.contains("secret"),
                "{sent}"
            );
        }
    }
}
