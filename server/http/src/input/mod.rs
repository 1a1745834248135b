//! From a request to an act: path fields, query or JSON body become one set of fields, none of which wins in silence.

mod fault;
mod merge;
mod strict;
mod unique;

use actix_web::{
    HttpRequest,
    http::header::{CONTENT_TYPE, IF_MATCH},
    rt::time::timeout,
    web::{Bytes, Payload},
};
use ellwand_contract::{Act, Method, Problem, ProblemType, act::path_fields};
use serde_json::Value;
use std::{collections::BTreeMap, time::Duration};

/// Values of the path's fields, decoded.
type PathFields = BTreeMap<String, String>;

/// How long a body may take to arrive.
const BODY: Duration = Duration::from_secs(30);

/// Reads an act from a request.
pub(crate) async fn read_act<A: Act>(
    request: &HttpRequest,
    payload: Payload,
    limit: usize,
) -> Result<A, Box<Problem>> {
    let values: Vec<String> = request.match_info().load().map_err(|error| {
        Problem::new(
            ProblemType::InvalidValue,
            format!("the path cannot be read: {error}"),
        )
    })?;
    let path: PathFields = path_fields(A::PATH)
        .map(str::to_owned)
        .zip(values)
        .collect();
    let query = request.query_string();
    if A::METHOD == Method::Get {
        return merge::from_query(&path, query);
    }
    if !query.is_empty() {
        let detail = format!(
            "{} takes its fields in the JSON body, not in the query",
            A::NAME
        );
        return Err(Problem::new(ProblemType::InvalidQuery, detail)
            .hint("move them into the body")
            .into());
    }
    check_content_type(request)?;
    let body = body(request, payload, limit).await?;
    merge::from_body(&path, if_match(request)?, &body)
}

/// The version that `If-Match` names, as the equivalent field; `*` and an absent header name none.
fn if_match(request: &HttpRequest) -> Result<Option<Value>, Box<Problem>> {
    let Some(value) = request.headers().get(IF_MATCH) else {
        return Ok(None);
    };
    let text = value.to_str().unwrap_or_default().trim();
    if text == "*" {
        return Ok(None);
    }
    let version = text
        .strip_prefix('"')
        .and_then(|rest| rest.strip_suffix('"'))
        .filter(|text| !text.is_empty());
    match version {
        Some(text) => Ok(Some(
            text.parse::<i64>()
                .map_or_else(|_| Value::from(text), Value::from),
        )),
        None => Err(Problem::new(
            ProblemType::InvalidRequest,
            format!("If-Match is {text}, which is no single ETag"),
        )
        .field("if-match")
        .hint("send the ETag of the answer that the change is based on, with its quotes")
        .into()),
    }
}

/// Refuses bodies that are not declared as JSON: a web page in a browser may send those to this machine unasked.
fn check_content_type(request: &HttpRequest) -> Result<(), Box<Problem>> {
    let content_type = request
        .headers()
        .get(CONTENT_TYPE)
        .map(|value| String::from_utf8_lossy(value.as_bytes()));
    let content_type = content_type.as_deref().unwrap_or("nothing");
    let essence = content_type.split(';').next().unwrap_or_default().trim();
    if essence.eq_ignore_ascii_case("application/json") {
        return Ok(());
    }
    let detail = format!("the body must be JSON, but content-type is {content_type}");
    Err(Problem::new(ProblemType::InvalidRequest, detail)
        .field("content-type")
        .hint("send it with content-type: application/json")
        .into())
}

async fn body(
    request: &HttpRequest,
    payload: Payload,
    limit: usize,
) -> Result<Bytes, Box<Problem>> {
    let too_large = || {
        let detail = format!("the request is larger than the {limit} bytes that are accepted");
        Problem::new(ProblemType::TooLarge, detail)
            .hint("split it: a purchase or a plan can be booked in parts")
            .with("limit_bytes", limit)
    };
    let length_header = request
        .headers()
        .get("content-length")
        .and_then(|value| value.to_str().ok()?.parse::<u64>().ok());
    if length_header.is_some_and(|length| u64::try_from(limit).is_ok_and(|limit| length > limit)) {
        return Err(too_large().into());
    }
    let cut_off = |cause: String| {
        Problem::new(
            ProblemType::InvalidRequest,
            format!("the body did not arrive whole: {cause}"),
        )
    };
    match timeout(BODY, payload.to_bytes_limited(limit)).await {
        Err(_) => {
            let detail = format!("the body took more than {} s to arrive", BODY.as_secs());
            Err(Problem::new(ProblemType::TooSlow, detail)
                .hint("the same request is safe to repeat")
                .into())
        }
        Ok(Err(_)) => Err(too_large().into()),
        Ok(Ok(Err(error))) => Err(cut_off(error.to_string()).into()),
        Ok(Ok(Ok(bytes))) => Ok(bytes),
    }
}
