//! Large answers travel compressed to clients that take gzip; small ones would gain nothing.

use actix_web::{
    Error,
    body::{BodySize, BoxBody, MessageBody},
    dev::{ServiceRequest, ServiceResponse},
    http::header::{
        ACCEPT_ENCODING, AcceptEncoding, CONTENT_ENCODING, Encoding, Header, HeaderValue, VARY,
    },
    middleware::Next,
    web::{self, Bytes},
};
use flate2::{Compression, write::GzEncoder};
use std::io::Write;

/// Bytes from which on an answer is compressed: below it fits into two or three packets as it is.
const LARGE: u64 = 4096;

/// Compresses a large answer.
pub(crate) async fn large_answers(
    request: ServiceRequest,
    next: Next<impl MessageBody + 'static>,
) -> Result<ServiceResponse<BoxBody>, Error> {
    let gzip = takes_gzip(&request);
    let response = next.call(request).await?.map_into_boxed_body();
    let large = matches!(response.response().body().size(), BodySize::Sized(size) if size >= LARGE);
    if !large {
        return Ok(response);
    }
    let (request, response) = response.into_parts();
    let (mut head, body) = response.into_parts();
    head.headers_mut()
        .insert(VARY, HeaderValue::from(ACCEPT_ENCODING));
    let body = match body.try_into_bytes() {
        Ok(plain) if gzip => {
            head.headers_mut()
                .insert(CONTENT_ENCODING, HeaderValue::from_static("gzip"));
            BoxBody::new(web::block(move || compressed(&plain)).await??)
        }
        Ok(plain) => BoxBody::new(plain),
        Err(body) => body,
    };
    Ok(ServiceResponse::new(request, head.set_body(body)))
}

fn takes_gzip(request: &ServiceRequest) -> bool {
    let choices = [Encoding::identity(), Encoding::gzip()];
    let accepted = AcceptEncoding::parse(request).ok();
    accepted.and_then(|accepted| accepted.negotiate(choices.iter())) == Some(Encoding::gzip())
}

fn compressed(plain: &Bytes) -> std::io::Result<Bytes> {
    let mut gzip = GzEncoder::new(Vec::new(), Compression::fast());
    gzip.write_all(plain)?;
    Ok(gzip.finish()?.into())
}
