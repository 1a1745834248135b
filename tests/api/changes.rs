//! What others see of a change: versions, and the list of changes that may be waited for.

use crate::app::{TestApp, open};
use actix_web::test::TestRequest;
use ellwand_server::spawn;
use serde_json::{Value, json};
use std::{
    io::{Read, Write},
    net::{SocketAddr, TcpListener, TcpStream},
    thread,
    time::{Duration, Instant},
};
use uuid::Uuid;

fn purchase() -> Value {
    let button = json!({"kind": "trim", "name": "button"});
    json!({"id": Uuid::now_v7(), "line": [{"material": button, "paid": "3", "price": "1"}]})
}

fn patch(uri: &str, tag: &str, body: Value) -> TestRequest {
    TestRequest::patch()
        .uri(uri)
        .insert_header(("if-match", tag))
        .set_json(body)
}

#[actix_web::test]
async fn a_version_travels_as_an_etag_and_is_asked_for_by_if_match() {
    let app = TestApp::new();
    app.post("/v1/purchases", purchase()).await;
    app.post(
        "/v1/garments",
        json!({"id": Uuid::now_v7(), "name": "vest"}),
    )
    .await;
    for (uri, tag, change) in [
        ("/v1/lots/L1", "\"B1\"", json!({"dye_lot": "7"})),
        ("/v1/garments/G1", "\"B2\"", json!({"name": "coat"})),
        ("/v1/workshop", "\"0\"", json!({"zone": "Europe/Lisbon"})),
    ] {
        let body = || {
            let mut body = change.clone();
            body["id"] = json!(Uuid::now_v7());
            body
        };
        assert_eq!(app.get(uri).await.header("etag"), Some(tag), "{uri}");
        let reply = app.send(patch(uri, tag, body())).await;
        assert_eq!(reply.status, 200, "{uri}: {}", reply.body);
        let reply = app.send(patch(uri, tag, body())).await;
        reply.assert_problem("changed-meanwhile", 412, Some("if_version"));
        let now = app.get(uri).await.header("etag").unwrap().to_owned();
        assert_eq!(reply.body["version"], now.trim_matches('"'), "{uri}");
        assert_eq!(app.send(patch(uri, "*", body())).await.status, 200, "{uri}");
        for wrong in ["B1", "W/\"B1\"", "\"\"", ""] {
            app.send(patch(uri, wrong, body())).await.assert_problem(
                "invalid-request",
                422,
                Some("if-match"),
            );
        }
        let mut both = body();
        both["if_version"] = json!("B99");
        app.send(patch(uri, tag, both)).await.assert_problem(
            "invalid-request",
            422,
            Some("if_version"),
        );
    }
    let reply = app
        .send(patch(
            "/v1/suppliers/S1",
            "\"1\"",
            json!({"id": Uuid::now_v7(), "name": "x"}),
        ))
        .await;
    reply.assert_problem("invalid-request", 422, Some("if_version"));
}

#[actix_web::test]
async fn changes_are_paged_from_a_cursor_to_the_present() {
    let app = TestApp::new();
    let empty = app.get("/v1/changes?after=now").await.body;
    assert_eq!(empty, json!({"changes": [], "next": "start"}));
    for _ in 0..3 {
        app.post("/v1/purchases", purchase()).await;
    }
    let reply = app.get("/v1/changes?limit=2").await;
    let codes: Vec<&Value> = reply.body["changes"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| &row["booking"])
        .collect();
    assert_eq!(
        (codes, &reply.body["next"]),
        (vec![&json!("B1"), &json!("B2")], &json!("B2"))
    );
    let change = &reply.body["changes"][0];
    assert_eq!(
        (&change["lots"], &change["garments"], &change["by"]),
        (&json!(["L1"]), &json!([]), &json!("owner"))
    );
    let reply = app.get("/v1/changes?after=B2").await;
    assert_eq!(
        (
            reply.body["changes"][0]["booking"].clone(),
            &reply.body["next"]
        ),
        (json!("B3"), &json!("B3"))
    );
    let reply = app.get("/v1/changes?after=B3").await;
    assert_eq!(reply.body, json!({"changes": [], "next": "B3"}));
    assert_eq!(
        app.get("/v1/changes?after=start").await.body["changes"]
            .as_array()
            .unwrap()
            .len(),
        3
    );
    app.get("/v1/changes?after=L1")
        .await
        .assert_problem("invalid-query", 400, Some("after"));
    app.get("/v1/changes?wait_s=31")
        .await
        .assert_problem("invalid-query", 400, Some("wait_s"));
    app.get("/v1/changes?limit=0")
        .await
        .assert_problem("invalid-query", 400, Some("limit"));
}

/// Asks on a connection of its own and reads the whole answer.
fn get(address: SocketAddr, uri: &str) -> String {
    let mut stream = TcpStream::connect(address).unwrap();
    write!(
        stream,
        "GET {uri} HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\n\r\n"
    )
    .unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    answer
}

#[actix_web::test]
async fn whoever_waits_is_reported_as_soon_as_something_is_booked() {
    let app = TestApp::new();
    let running = spawn(
        &open(),
        app.book.clone(),
        TcpListener::bind("127.0.0.1:0").unwrap(),
    )
    .unwrap();
    let address = running.address();
    let begun = Instant::now();
    let waiting = thread::spawn(move || {
        (
            get(address, "/v1/changes?after=start&wait_s=20"),
            begun.elapsed(),
        )
    });
    // Booked by another server on the same book.
    thread::sleep(Duration::from_millis(700));
    app.post("/v1/purchases", purchase()).await;
    let (answer, took) = waiting.join().unwrap();
    assert!(answer.contains("\"booking\":\"B1\""), "{answer}");
    assert!(
        took >= Duration::from_millis(700) && took < Duration::from_secs(10),
        "{took:?}"
    );
    let begun = Instant::now();
    assert!(get(address, "/v1/changes?after=B1&wait_s=1").contains("\"changes\":[]"));
    assert!(
        begun.elapsed() >= Duration::from_secs(1),
        "nothing came, so it was waited"
    );
    // Asked to stop, the server answers those who wait.
    let begun = Instant::now();
    let waiting = thread::spawn(move || get(address, "/v1/changes?after=B1&wait_s=20"));
    thread::sleep(Duration::from_millis(300));
    running.stop().unwrap();
    let answer = waiting.join().unwrap();
    assert!(
        answer.starts_with("HTTP/1.1 200") && answer.contains("\"changes\":[]"),
        "{answer}"
    );
    assert!(
        begun.elapsed() < Duration::from_secs(5),
        "{:?}",
        begun.elapsed()
    );
}
