//! A server in process on a book of its own.

use crate::{own_schema::aside, place::Place};
use actix_web::{
    http::header::HeaderMap,
    test::{TestRequest, call_service, init_service, read_body},
    web::Data,
};
use chrono::{TimeZone, Utc};
use ellwand_server::{Config, State, app};
use ellwand_service::{Book, Caller, Clock, Options, Perform};
use serde_json::Value;
use std::ops::Deref;

/// Settings of a server that asks nobody for a token.
pub fn open() -> Config {
    Config {
        open: true,
        ..Config::default()
    }
}

/// A server in process; its book goes when it is dropped.
pub struct TestApp {
    parts: Option<Parts>,
}

/// What a server in process is made of.
pub struct Parts {
    pub book: Book,
    state: Data<State>,
    place: Place,
}

impl Deref for TestApp {
    type Target = Parts;
    fn deref(&self) -> &Parts {
        self.parts.as_ref().unwrap()
    }
}

impl Drop for TestApp {
    fn drop(&mut self) {
        let parts = self.parts.take();
        aside(|| drop(parts));
    }
}

/// What came back.
pub struct Reply {
    pub status: u16,
    pub headers: HeaderMap,
    pub body: Value,
}

impl TestApp {
    pub fn new() -> Self {
        Self::with(&open())
    }

    pub fn with(config: &Config) -> Self {
        let place = Place::new();
        let clock = Clock::fixed(Utc.with_ymd_and_hms(2026, 10, 12, 9, 0, 0).unwrap());
        let book = aside(|| {
            Book::open(
                &place.url,
                Options {
                    clock,
                    create: true,
                },
            )
        })
        .unwrap();
        Self {
            parts: Some(Parts {
                state: State::new(book.clone(), config),
                book,
                place,
            }),
        }
    }

    /// Asks the book itself, past the server.
    pub fn call<A: Perform>(&self, caller: &Caller, act: &A) -> A::Answer {
        aside(|| self.book.call(caller, act)).unwrap().answer
    }

    pub async fn send(&self, request: TestRequest) -> Reply {
        let (status, headers, bytes) = self.bytes(request).await;
        let body = if bytes.is_empty() {
            Value::Null
        } else {
            serde_json::from_slice(&bytes).unwrap()
        };
        Reply {
            status,
            headers,
            body,
        }
    }

    /// Status, headers and body, as they travel.
    pub async fn bytes(&self, request: TestRequest) -> (u16, HeaderMap, Vec<u8>) {
        let service = init_service(app(self.state.clone())).await;
        let response = call_service(&service, request.to_request()).await;
        let (status, headers) = (response.status().as_u16(), response.headers().clone());
        (status, headers, read_body(response).await.to_vec())
    }

    /// Runs a statement that no act makes.
    pub fn sql(&self, statement: &str) {
        self.place.sql(statement);
    }

    /// What came back, when it is no JSON.
    pub async fn text(&self, request: TestRequest) -> String {
        String::from_utf8(self.bytes(request).await.2).unwrap()
    }

    pub async fn get(&self, uri: &str) -> Reply {
        self.send(TestRequest::get().uri(uri)).await
    }

    pub async fn post(&self, uri: &str, body: Value) -> Reply {
        self.send(TestRequest::post().uri(uri).set_json(body)).await
    }

    pub async fn patch(&self, uri: &str, body: Value) -> Reply {
        self.send(TestRequest::patch().uri(uri).set_json(body))
            .await
    }
}

impl Reply {
    pub fn header(&self, name: &str) -> Option<&str> {
        self.headers.get(name).map(|value| value.to_str().unwrap())
    }

    /// Asserts that this is a problem of this type and status in the form of RFC 9457, about this field.
    #[track_caller]
    pub fn assert_problem(&self, slug: &str, status: u16, field: Option<&str>) {
        assert_eq!(self.body["type"], slug, "{}", self.body);
        assert_eq!(self.status, status, "{}", self.body);
        assert_eq!(self.body["status"], status, "{}", self.body);
        assert_eq!(
            self.body.get("field").and_then(Value::as_str),
            field,
            "{}",
            self.body
        );
        assert_eq!(
            self.header("content-type"),
            Some("application/problem+json")
        );
        assert_eq!(
            self.body["instance"].as_str(),
            self.header("x-request-id"),
            "{}",
            self.body
        );
        assert!(!self.body["detail"].as_str().unwrap().is_empty());
    }
}
