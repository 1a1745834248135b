//! The table of routes against the contract.

use crate::app::TestApp;
use actix_web::{http::Method as HttpMethod, test::TestRequest};
use ellwand_contract::Method;
use ellwand_server::router::table;
use std::{collections::BTreeSet, fs, path::Path};
use uuid::Uuid;

/// Names and paths of all acts, as the contract's source declares them.
fn declared() -> BTreeSet<(String, String)> {
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("../contract/src")];
    let mut acts = BTreeSet::new();
    while let Some(folder) = folders.pop() {
        let files = fs::read_dir(folder)
            .unwrap()
            .map(|file| file.unwrap().path());
        let (inner, files): (Vec<_>, Vec<_>) = files.partition(|path| path.is_dir());
        folders.extend(inner);
        acts.extend(
            files
                .iter()
                .flat_map(|file| acts_of(&fs::read_to_string(file).unwrap())),
        );
    }
    acts
}

fn acts_of(text: &str) -> Vec<(String, String)> {
    let act = |(start, _): (usize, &str)| {
        let mut quoted = text[start..].split('"').skip(1).step_by(2);
        (
            quoted.next().unwrap().to_owned(),
            quoted.next().unwrap().to_owned(),
        )
    };
    text.match_indices("\nact!(").map(act).collect()
}

#[test]
fn every_act_of_the_contract_is_in_the_table_once() {
    let table = table();
    let routed: BTreeSet<_> = table
        .entries()
        .iter()
        .map(|e| (e.name.to_owned(), e.path.to_owned()))
        .collect();
    assert_eq!(routed, declared());
    assert_eq!(routed.len(), table.entries().len(), "a name stands twice");
    let places: BTreeSet<_> = table
        .entries()
        .iter()
        .map(|e| (format!("{:?}", e.method), e.path))
        .collect();
    assert_eq!(
        places.len(),
        table.entries().len(),
        "a method and path stand twice"
    );
}

/// A code that fits the field, so that a request goes beyond the reading of its path.
fn filled(path: &str) -> String {
    let code = |field: &str| match field {
        "{piece}" => "L1.1".to_owned(),
        "{logo}" => "1".to_owned(),
        "{lay}" => "Y1".to_owned(),
        field => format!("{}1", field[1..2].to_uppercase()),
    };
    path.split('/')
        .map(|part| {
            if part.starts_with('{') {
                code(part)
            } else {
                part.to_owned()
            }
        })
        .collect::<Vec<_>>()
        .join("/")
}

#[actix_web::test]
async fn every_act_is_reached_by_its_method_and_path() {
    let app = TestApp::new();
    for entry in table().entries() {
        let method = match entry.method {
            Method::Get => HttpMethod::GET,
            Method::Post => HttpMethod::POST,
            Method::Patch => HttpMethod::PATCH,
        };
        // A field that no act has: whoever answers has read the request of its act and names the field.
        let uri = filled(entry.path);
        let request = TestRequest::default().method(method.clone());
        let (request, slug) = match entry.method {
            Method::Get => (request.uri(&format!("{uri}?surely_not=1")), "invalid-query"),
            _ => (
                request
                    .uri(&uri)
                    .set_json(serde_json::json!({"id": Uuid::now_v7(), "surely_not": 1})),
                "invalid-request",
            ),
        };
        let reply = app.send(request).await;
        assert_eq!(reply.body["type"], slug, "{method} {uri}: {}", reply.body);
        let detail = reply.body["detail"].as_str().unwrap();
        assert!(
            detail.contains("unknown field `surely_not`"),
            "{method} {uri}: {detail}"
        );
    }
}

#[actix_web::test]
async fn a_fixed_word_is_not_taken_for_a_code() {
    let app = TestApp::new();
    app.get("/v1/bookings/lost")
        .await
        .assert_problem("invalid-value", 422, Some("booking"));
    app.get("/v1/bookings/last?booking=B1")
        .await
        .assert_problem("invalid-query", 400, Some("booking"));
    app.get("/v1/reservations/released").await.assert_problem(
        "invalid-value",
        422,
        Some("reservation"),
    );
    let reply = app
        .post(
            "/v1/reservations/release",
            serde_json::json!({"reservation": "R1"}),
        )
        .await;
    reply.assert_problem("invalid-request", 422, Some("reservation"));
}

#[actix_web::test]
async fn a_wrong_method_is_reported_which_ones_the_path_takes() {
    let app = TestApp::new();
    for (uri, allow) in [
        ("/v1/workshop", "GET, HEAD, PATCH"),
        ("/v1/purchases", "POST, GET, HEAD"),
        ("/v1/bookings/B1/undo", "POST"),
        ("/v1/bookings/last", "GET, HEAD"),
        ("/v1/openapi.json", "GET, HEAD"),
        ("/health/live", "GET, HEAD"),
    ] {
        let reply = app.send(TestRequest::delete().uri(uri)).await;
        reply.assert_problem("no-such-route", 405, None);
        assert_eq!(reply.header("allow"), Some(allow), "{uri}");
    }
}

#[actix_web::test]
async fn an_unknown_path_is_a_problem_too() {
    let app = TestApp::new();
    for uri in [
        "/",
        "/v1",
        "/v1/",
        "/v1/shelf/",
        "/v2/shelf",
        "/v1/lots/L1/nothing",
        "/health",
        "/v1/lots/",
    ] {
        app.get(uri)
            .await
            .assert_problem("no-such-route", 404, None);
    }
}
