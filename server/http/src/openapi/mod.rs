//! The OpenAPI document, made from the contract.

mod flatten;
mod operation;

pub(crate) use operation::{Described, describe};

use crate::{error::PROBLEM_JSON, router, sign_in::CALLER};
use actix_web::{HttpResponse, http::header::ContentType};
use ellwand_contract::{Method, Problem, ProblemType, sending};
use std::{collections::BTreeSet, sync::LazyLock};
use utoipa::{
    PartialSchema, ToSchema,
    openapi::{
        Components, ComponentsBuilder, ContentBuilder, HttpMethod, InfoBuilder, KnownFormat,
        LicenseBuilder, Object, ObjectBuilder, OpenApi, OpenApiBuilder, PathsBuilder, Ref,
        Required, ResponseBuilder, SchemaFormat, Type,
        path::{ParameterBuilder, ParameterIn, PathItem},
        security::{HttpAuthScheme, HttpBuilder, SecurityRequirement, SecurityScheme},
    },
};

static DOCUMENT: LazyLock<OpenApi> = LazyLock::new(build);
static BODY: LazyLock<String> = LazyLock::new(|| {
    DOCUMENT
        .to_json()
        .expect("the document is texts, numbers and JSON values, which serialise")
});

/// The document, indented for people.
#[must_use]
pub fn pretty() -> String {
    DOCUMENT
        .to_pretty_json()
        .expect("the document is texts, numbers and JSON values, which serialise")
}

/// Serves the document.
pub(crate) async fn document() -> HttpResponse {
    HttpResponse::Ok()
        .insert_header(ContentType::json())
        .body(BODY.as_str())
}

fn build() -> OpenApi {
    let mut paths = PathsBuilder::new();
    let mut components = components();
    for entry in router::table().entries() {
        let Described { operation, schemas } = (entry.describe)();
        let method = match entry.method {
            Method::Get => HttpMethod::Get,
            Method::Post => HttpMethod::Post,
            Method::Patch => HttpMethod::Patch,
        };
        paths = paths.path(entry.path, PathItem::new(method, operation));
        for (name, schema) in schemas {
            let known = components
                .schemas
                .entry(name)
                .or_insert_with(|| schema.clone());
            assert!(
                *known == schema,
                "two types of the contract share a name that {} uses",
                entry.name
            );
        }
    }
    flatten::flatten(&mut components.schemas);
    let licence = LicenseBuilder::new()
        .name("MIT OR Apache-2.0")
        .identifier(Some("MIT OR Apache-2.0"))
        .build();
    let info = InfoBuilder::new()
        .title("Ellwand")
        .version(env!("CARGO_PKG_VERSION"))
        .description(Some(
            "A garment workshop's book: cloth bought, promised, cut and left, and what each garment costs. \
             Quantities in requests are typed with their unit; in answers they are decimal strings in the unit that \
             their names say. A request with an `id` may be repeated: it is booked once.",
        ))
        .license(Some(licence))
        .build();
    let token = [SecurityRequirement::new::<_, _, String>("token", [])];
    let builder = OpenApiBuilder::new()
        .info(info)
        .paths(paths)
        .components(Some(components));
    builder.security(Some(token)).build()
}

/// Statuses of problems that a response of an act may have.
fn problem_statuses() -> BTreeSet<u16> {
    ProblemType::ALL.iter().map(|kind| kind.status()).collect()
}

/// Name of the shared response for problems of a status.
fn problem_response(status: u16) -> String {
    format!("Problem{status}")
}

/// The slugs, as they travel.
fn problem_type() -> Object {
    ObjectBuilder::new()
        .schema_type(Type::String)
        .description(Some("Every kind of problem; match on it, never on prose."))
        .enum_values(Some(ProblemType::ALL.iter().map(|kind| kind.slug())))
        .build()
}

/// Format of a time.
const DATE_TIME: SchemaFormat = SchemaFormat::KnownFormat(KnownFormat::DateTime);

/// Headers on how a write is sent: name of the parameter, name of the header, description.
pub(crate) const SENDING: [(&str, &str, &str); 3] = [
    (
        "Repeat",
        sending::REPEAT,
        "`true` marks a request whose earlier sending got no answer. When it is refused, the refusal is the final answer \
         to its id, which an earlier sending still under way gets too.",
    ),
    (
        "SentAt",
        sending::SENT_AT,
        "The time by the sender's clock, RFC 3339. A difference of more than a day from the book's clock must be confirmed.",
    ),
    (
        "Clock",
        sending::CLOCK,
        "`confirmed` after a problem of type `clock-in-doubt`: the clock of the book is right.",
    ),
];

fn header((_, name, description): (&str, &str, &str)) -> ParameterBuilder {
    let schema = ObjectBuilder::new().schema_type(Type::String);
    let schema = if name == sending::SENT_AT {
        schema.format(Some(DATE_TIME))
    } else {
        schema
    };
    ParameterBuilder::new()
        .name(name)
        .parameter_in(ParameterIn::Header)
        .required(Required::False)
        .description(Some(description))
        .schema(Some(schema))
}

fn components() -> Components {
    let mut schemas = Vec::new();
    Problem::schemas(&mut schemas);
    let caller = ParameterBuilder::new()
        .name(CALLER.as_str())
        .parameter_in(ParameterIn::Header)
        .required(Required::False)
        .description(Some(
            "Who books on an open server, `owner` when absent; elsewhere the token decides.",
        ))
        .schema(Some(
            ObjectBuilder::new()
                .schema_type(Type::String)
                .min_length(Some(1))
                .max_length(Some(100)),
        ));
    let token = HttpBuilder::new()
        .scheme(HttpAuthScheme::Bearer)
        .description(Some(
            "A token of `ellwand token create`; an open server needs none.",
        ))
        .build();
    let start = ComponentsBuilder::new()
        .schema(Problem::name(), Problem::schema())
        .schemas_from_iter(schemas)
        .schema(ProblemType::name(), problem_type())
        .parameter("Caller", caller.build())
        .security_scheme("token", SecurityScheme::Http(token));
    let start = SENDING.into_iter().fold(start, |components, each| {
        components.parameter(each.0, header(each).build())
    });
    let all = problem_statuses()
        .into_iter()
        .fold(start, |components, status| {
            let slugs = ProblemType::ALL
                .iter()
                .filter(|kind| kind.status() == status)
                .map(|kind| format!("`{}`", kind.slug()));
            let description = format!(
                "A problem of type {}.",
                slugs.collect::<Vec<_>>().join(", ")
            );
            let content = ContentBuilder::new()
                .schema(Some(Ref::from_schema_name(Problem::name())))
                .build();
            let response = ResponseBuilder::new()
                .description(description)
                .content(PROBLEM_JSON, content);
            components.response(problem_response(status), response.build())
        });
    all.build()
}
