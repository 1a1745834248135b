//! Which program answers, and how its large answers travel.

use crate::{access::locked, app::TestApp, app::open};
use actix_web::test::TestRequest;
use ellwand_contract::version::{PATH, WIRE};
use flate2::read::GzDecoder;
use serde_json::json;
use std::io::Read;
use uuid::Uuid;

#[actix_web::test]
async fn the_version_needs_no_token_and_says_nothing_else() {
    let app = locked();
    let reply = app.get(PATH).await;
    assert_eq!(reply.status, 200);
    assert_eq!(
        reply.body,
        json!({"name": "ellwand-server", "version": env!("CARGO_PKG_VERSION"), "wire": WIRE})
    );
    app.send(TestRequest::post().uri(PATH))
        .await
        .assert_problem("no-such-route", 405, None);
}

/// A shelf of sixty cloths and what was booked for it: the same answer with and without compression, and a small one as it is.
#[actix_web::test]
async fn large_answers_travel_compressed_to_those_who_take_it() {
    let app = TestApp::with(&open());
    for number in 1..=60 {
        let sheet =
            json!({"kind": "cloth", "name": format!("cloth {number}"), "full_width": "150cm"});
        let line = json!({"material": sheet, "paid": "3m", "price": "30"});
        let reply = app
            .post(
                "/v1/purchases",
                json!({"id": Uuid::now_v7(), "line": [line]}),
            )
            .await;
        assert_eq!(reply.status, 201, "{}", reply.body);
    }
    for uri in ["/v1/shelf", "/v1/bookings?limit=60", "/v1/openapi.json"] {
        let plain = sent(&app, uri, None).await;
        let packed = sent(&app, uri, Some("br, gzip")).await;
        assert_eq!(
            (plain.0, packed.0),
            (None, Some("gzip".to_owned())),
            "{uri}"
        );
        let mut read = Vec::new();
        GzDecoder::new(&packed.1[..])
            .read_to_end(&mut read)
            .unwrap();
        assert_eq!(read, plain.1, "{uri}");
        println!(
            "{uri}: {} bytes, compressed {}",
            plain.1.len(),
            packed.1.len()
        );
        // Common practice: JSON of records alike shrinks to a third at least.
        assert!(packed.1.len() * 3 < plain.1.len(), "{uri}");
        assert_eq!(sent(&app, uri, Some("gzip;q=0")).await.0, None, "{uri}");
    }
    assert_eq!(sent(&app, "/v1/workshop", Some("gzip")).await.0, None);
}

/// The coding and the bytes of an answer.
async fn sent(app: &TestApp, uri: &str, accept: Option<&str>) -> (Option<String>, Vec<u8>) {
    let request = TestRequest::get().uri(uri);
    let request = match accept {
        Some(accept) => request.insert_header(("accept-encoding", accept)),
        None => request,
    };
    let (status, headers, body) = app.bytes(request).await;
    assert_eq!(status, 200, "{uri}");
    let coding = headers.get("content-encoding");
    (coding.map(|value| value.to_str().unwrap().to_owned()), body)
}
