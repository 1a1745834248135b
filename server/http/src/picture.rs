//! Pictures of kept lays.

use crate::{State, error, input, sign_in, telemetry::RequestId};
use actix_web::{
    HttpRequest, HttpResponse,
    web::{self, Data, Payload},
};
use ellwand_contract::{Problem, ProblemType, Sending, lays::GetKeptLay};
use ellwand_domain::quantity::Units;

/// Where the picture of a kept lay is.
pub(crate) const PATH: &str = "/v1/lays/{lay}.svg";

/// Draws a kept lay, to scale, in metric units.
pub(crate) async fn of_lay(
    request: HttpRequest,
    payload: Payload,
    state: Data<State>,
) -> HttpResponse {
    match drawn(&request, payload, &state).await {
        Ok(svg) => HttpResponse::Ok().content_type("image/svg+xml").body(svg),
        Err(problem) => error::response(*problem, &RequestId::of(&request)),
    }
}

async fn drawn(
    request: &HttpRequest,
    payload: Payload,
    state: &Data<State>,
) -> Result<String, Box<Problem>> {
    let who = sign_in::who(request, state).await?;
    let act: GetKeptLay = match input::read_act(request, payload, state.body_limit).await {
        Ok(act) => act,
        Err(problem) => return Err(who.check(state).await.err().unwrap_or(problem)),
    };
    let shared = state.clone();
    let work = move || who.call(&act, Sending::default(), &shared);
    let gone = |_| Problem::new(ProblemType::Internal, "the threads are gone");
    let outcome = web::block(work).await.map_err(gone)??;
    Ok(ellwand_picture::lay::draw(&outcome.answer, Units::Metric))
}
