//! Health checks, in process and on a listener.

use crate::app::{TestApp, open};
use actix_web::test::TestRequest;
use ellwand_server::spawn;
use serde_json::json;
use std::{
    io::{Read, Write},
    net::{SocketAddr, TcpListener, TcpStream},
};

#[actix_web::test]
async fn health_says_the_state_and_nothing_else() {
    let app = TestApp::new();
    for (uri, state) in [("/health/live", "live"), ("/health/ready", "ready")] {
        let reply = app.get(uri).await;
        assert_eq!(
            (reply.status, reply.body.clone()),
            (200, json!({ "state": state }))
        );
        let head = app
            .send(
                TestRequest::default()
                    .method(actix_web::http::Method::HEAD)
                    .uri(uri),
            )
            .await;
        assert_eq!(head.status, 200);
        let shown = format!("{:?}{}", reply.headers, reply.body);
        assert!(!shown.contains(env!("CARGO_PKG_VERSION")), "{shown}");
        assert_eq!(reply.header("server"), None);
    }
}

fn ask(address: SocketAddr, request: &str) -> String {
    let mut stream = TcpStream::connect(address).unwrap();
    stream.write_all(request.as_bytes()).unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    answer
}

#[test]
fn a_server_on_a_thread_answers_until_it_is_stopped() {
    let app = TestApp::new();
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let running = spawn(&open(), app.book.clone(), listener).unwrap();
    let address = running.address();
    assert_eq!(running.url(), format!("http://{address}"));
    let get = "GET /health/ready HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\n\r\n";
    let answer = ask(address, get);
    assert!(answer.starts_with("HTTP/1.1 200"), "{answer}");
    assert!(answer.ends_with(r#"{"state":"ready"}"#), "{answer}");
    let head = ask(
        address,
        "HEAD /health/live HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\n\r\n",
    );
    assert!(
        head.starts_with("HTTP/1.1 200") && head.ends_with("\r\n\r\n"),
        "{head}"
    );
    running.stop().unwrap();
    assert!(
        TcpStream::connect(address).is_err(),
        "nothing listens any more"
    );
}

#[test]
fn a_listener_that_others_can_reach_is_not_served() {
    let app = TestApp::new();
    let listener = TcpListener::bind("0.0.0.0:0").unwrap();
    let error = spawn(&open(), app.book.clone(), listener).unwrap_err();
    assert!(
        error
            .to_string()
            .contains("can be reached from other machines"),
        "{error}"
    );
}

/// The text format as <https://prometheus.io/docs/specs/om/open_metrics_spec/> (1.0) has it: counters end in `_total`, the
/// text in `# EOF`.
#[actix_web::test]
async fn figures_are_reported_to_those_who_are_signed_in() {
    let app = crate::access::locked();
    app.get("/metrics")
        .await
        .assert_problem("not-signed-in", 401, None);
    let token = crate::access::token(&app, "scraper", ellwand_domain::setting::Role::Viewer, &[]);
    let ask = |uri: &str| crate::access::signed(TestRequest::get().uri(uri), token.expose());
    app.send(ask("/v1/shelf")).await;
    app.send(ask("/v1/nothing/at/all")).await;
    let text = app.text(ask("/metrics")).await;
    for line in [
        "ellwand_requests_total{method=\"GET\",route=\"/v1/shelf\",status=\"200\"} 1\n",
        "ellwand_requests_total{method=\"GET\",route=\"none\",status=\"404\"} 1\n",
        "ellwand_request_seconds_count{route=\"/v1/shelf\"} 1\n",
        "ellwand_requests_under_way 1\n",
        // The token, and once the day on which it was used.
        "ellwand_writes_total 2\n",
        "ellwand_commits_total 2\n",
    ] {
        assert!(text.contains(line), "{line}{text}");
    }
    assert!(
        text.ends_with("# EOF\n") && !text.contains("nothing"),
        "{text}"
    );
}

/// A server whose database a newer program has brought up to date books nothing more into it, and is not ready.
#[needs::variable(TEST_DATABASE_URL)]
#[test]
fn a_newer_schema_ends_the_work_of_a_running_server() {
    let place = crate::place::Place::postgresql();
    let _ = rustls::crypto::ring::default_provider().install_default();
    crate::served::migrate(&place.url);
    let server = crate::served::Served::new(&place.url, crate::cluster::port());
    let client = reqwest::blocking::Client::builder()
        .tls_certs_only([])
        .no_proxy()
        .build()
        .unwrap();
    let buy = || {
        let line =
            json!([{"material": {"kind": "trim", "name": "button"}, "paid": "3", "price": "1"}]);
        let body = json!({"id": uuid::Uuid::now_v7(), "line": line});
        client
            .post(format!("{}/v1/purchases", server.url))
            .json(&body)
            .send()
            .unwrap()
    };
    let ready = || {
        client
            .get(format!("{}/health/ready", server.url))
            .send()
            .unwrap()
    };
    assert_eq!(
        (buy().status().as_u16(), ready().status().as_u16()),
        (201, 200)
    );
    place.sql("INSERT INTO __diesel_schema_migrations (version) VALUES ('20991231235959')");
    for response in [buy(), ready()] {
        assert_eq!(response.status().as_u16(), 503);
        let problem: serde_json::Value = response.json().unwrap();
        assert_eq!(problem["type"], "newer-schema", "{problem}");
    }
    place.sql("DELETE FROM __diesel_schema_migrations WHERE version = '20991231235959'");
    assert_eq!(
        (buy().status().as_u16(), ready().status().as_u16()),
        (201, 200)
    );
}
