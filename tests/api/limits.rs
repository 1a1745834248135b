//! What a server takes of one person and of one address.

use crate::{
    access::{signed, token},
    app::{Reply, TestApp},
};
use actix_web::test::TestRequest;
use ellwand_contract::people::RevokeToken;
use ellwand_domain::setting::Role;
use ellwand_server::Config;
use ellwand_service::Caller;
use serde_json::json;
use uuid::Uuid;

const ELSEWHERE: &str = "203.0.113.7:4000";

fn from(address: &str) -> TestRequest {
    TestRequest::get()
        .uri("/v1/shelf")
        .peer_addr(address.parse().unwrap())
}

#[track_caller]
fn assert_waits(reply: &Reply) {
    reply.assert_problem("too-many-requests", 429, None);
    let seconds: u64 = reply.header("retry-after").unwrap().parse().unwrap();
    assert!((1..=60).contains(&seconds), "{seconds}");
    assert_eq!(reply.body["retry_after_s"], seconds);
}

#[actix_web::test]
async fn requests_beyond_a_minutes_share_wait_and_others_do_not() {
    let app = TestApp::with(&Config {
        requests_per_minute: 3,
        ..Config::default()
    });
    let (busy, other) = (
        token(&app, "bo", Role::Maker, &[]),
        token(&app, "cy", Role::Maker, &[]),
    );
    for _ in 0..3 {
        assert_eq!(
            app.send(signed(from(ELSEWHERE), busy.expose()))
                .await
                .status,
            200
        );
    }
    assert_waits(&app.send(signed(from(ELSEWHERE), busy.expose())).await);
    assert_eq!(
        app.send(signed(from(ELSEWHERE), other.expose()))
            .await
            .status,
        200
    );
}

/// So many failures a minute; then the address waits, but for good tokens, which are looked up before, and others do not.
#[actix_web::test]
async fn an_address_whose_sign_ins_fail_waits() {
    let app = TestApp::with(&Config {
        failures_per_minute: 5,
        ..Config::default()
    });
    let good = token(&app, "bo", Role::Maker, &[]);
    for number in 0..5 {
        let wrong = format!("ellwand_{number:064x}");
        app.send(signed(from(ELSEWHERE), &wrong))
            .await
            .assert_problem("not-signed-in", 401, None);
    }
    assert_waits(
        &app.send(signed(from(ELSEWHERE), &format!("ellwand_{:064x}", 5)))
            .await,
    );
    assert_waits(&app.send(from(ELSEWHERE)).await);
    assert_eq!(
        app.send(signed(from(ELSEWHERE), good.expose()))
            .await
            .status,
        200,
        "never used before"
    );
    app.send(from("203.0.113.8:1"))
        .await
        .assert_problem("not-signed-in", 401, None);
}

/// Who asks comes before what is asked: a guess that cannot be read is a guess, and counts as one.
#[actix_web::test]
async fn a_guess_with_a_broken_request_counts() {
    let app = TestApp::with(&Config {
        failures_per_minute: 4,
        ..Config::default()
    });
    let at = |uri: &str| {
        TestRequest::get()
            .uri(uri)
            .peer_addr(ELSEWHERE.parse().unwrap())
    };
    let revoked = token(&app, "bo", Role::Maker, &[]);
    assert_eq!(
        app.send(signed(at("/v1/shelf"), revoked.expose()))
            .await
            .status,
        200
    );
    let revoke = json!({"id": Uuid::now_v7(), "token": "T1"});
    app.call::<RevokeToken>(
        &Caller::owner("test"),
        &serde_json::from_value(revoke).unwrap(),
    );
    let (query, body) = (
        "/v1/shelf?no_such_field=1",
        TestRequest::post().uri("/v1/purchases"),
    );
    let unknown = format!("ellwand_{:064x}", 7);
    for secret in [unknown.as_str(), revoked.expose()] {
        app.send(signed(at(query), secret))
            .await
            .assert_problem("not-signed-in", 401, None);
    }
    let body = body.peer_addr(ELSEWHERE.parse().unwrap()).set_payload("{");
    app.send(signed(body, &unknown))
        .await
        .assert_problem("not-signed-in", 401, None);
    app.send(at(query))
        .await
        .assert_problem("not-signed-in", 401, None);
    assert_waits(&app.send(signed(at(query), &unknown)).await);
}

/// Behind a proxy the address is the one that the proxy wrote last; what a client wrote before it counts for nothing.
#[actix_web::test]
async fn behind_a_proxy_the_clients_address_counts() {
    let app = TestApp::with(&Config {
        behind_proxy: true,
        failures_per_minute: 5,
        ..Config::default()
    });
    let via = |list: &str| from("127.0.0.1:9").insert_header(("x-forwarded-for", list.to_owned()));
    for number in 0..5 {
        let list = format!("198.51.100.{number}, 203.0.113.7");
        app.send(via(&list))
            .await
            .assert_problem("not-signed-in", 401, None);
    }
    assert_waits(&app.send(via("198.51.100.99, 203.0.113.7")).await);
    app.send(via("203.0.113.8"))
        .await
        .assert_problem("not-signed-in", 401, None);
}

/// A body that is nested deeper than any request is refused where it is read.
#[actix_web::test]
async fn deep_json_is_refused() {
    let app = TestApp::new();
    let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
    let body = format!("{{\"id\": {deep}}}");
    let request = TestRequest::post()
        .uri("/v1/purchases")
        .insert_header(("content-type", "application/json"));
    app.send(request.set_payload(body))
        .await
        .assert_problem("invalid-request", 422, None);
}
