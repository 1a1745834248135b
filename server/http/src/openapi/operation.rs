//! One act in the document.

use super::{SENDING, flatten, problem_response};
use crate::act::REPEATED;
use ellwand_contract::{Act, Method, act::path_fields};
use utoipa::{
    PartialSchema, ToSchema,
    openapi::{
        ContentBuilder, HeaderBuilder, Object, ObjectBuilder, Ref, RefOr, Required, Response,
        ResponseBuilder, Schema, Type,
        path::{Operation, OperationBuilder, Parameter, ParameterBuilder, ParameterIn},
        request_body::RequestBodyBuilder,
        schema::SchemaType,
    },
};

/// An operation and the schemas it refers to, by name.
pub(crate) struct Described {
    pub(crate) operation: Operation,
    pub(crate) schemas: Vec<(String, RefOr<Schema>)>,
}

/// Describes an act from its types.
pub(crate) fn describe<A>() -> Described
where
    A: Act + ToSchema,
    A::Answer: ToSchema,
{
    let mut schemas = vec![(A::Answer::name().into_owned(), A::Answer::schema())];
    A::schemas(&mut schemas);
    A::Answer::schemas(&mut schemas);
    let mut fields = fields::<A>(&mut schemas);
    let resource = A::PATH.split('/').nth(2).unwrap_or_default();
    let mut operation = OperationBuilder::new()
        .operation_id(Some(A::NAME))
        .tag(resource)
        .summary(Some(A::SUMMARY))
        .description(fields.description.take())
        .parameter_ref(Ref::new("#/components/parameters/Caller"));
    if A::METHOD != Method::Get {
        for (name, ..) in SENDING {
            operation =
                operation.parameter_ref(Ref::new(format!("#/components/parameters/{name}")));
        }
    }
    for name in path_fields(A::PATH) {
        operation = operation.parameter(parameter(&mut fields, name, ParameterIn::Path));
    }
    if fields.properties.contains_key("if_version") {
        operation = operation.parameter(if_match());
    }
    if A::METHOD == Method::Get {
        for name in fields.properties.keys().cloned().collect::<Vec<_>>() {
            operation = operation.parameter(parameter(&mut fields, &name, ParameterIn::Query));
        }
    } else {
        let content = ContentBuilder::new()
            .schema(Some(Ref::from_schema_name(A::name())))
            .build();
        let body = RequestBodyBuilder::new()
            .required(Some(Required::True))
            .content("application/json", content);
        operation = operation.request_body(Some(body.build()));
        schemas.push((A::name().into_owned(), RefOr::T(Schema::Object(fields))));
    }
    let answer = Ref::from_schema_name(A::Answer::name());
    operation = operation.response(
        "200",
        answered(A::METHOD, has_version::<A>(), answer.clone()),
    );
    if A::METHOD == Method::Post {
        operation = operation.response("201", response("Booked.", answer));
    }
    for status in problems(A::METHOD) {
        operation = operation.response(
            status.to_string(),
            Ref::from_response_name(problem_response(*status)),
        );
    }
    Described {
        operation: operation.build(),
        schemas,
    }
}

/// The fields of a request type.
fn fields<A: Act + ToSchema>(schemas: &mut Vec<(String, RefOr<Schema>)>) -> Object {
    let schema = A::schema();
    let whole = match &schema {
        RefOr::T(Schema::AllOf(halves)) => {
            let all = schemas.iter().cloned().collect();
            let whole = flatten::merge(&schema, &all);
            // Its fields are the request's own.
            let half = |name: &str| {
                halves.items.iter().any(|item| {
                    matches!(item, RefOr::Ref(half) if half.ref_location.ends_with(&format!("/{name}")))
                })
            };
            schemas.retain(|(name, _)| !half(name));
            whole
        }
        _ => Some(schema),
    };
    match whole {
        Some(RefOr::T(Schema::Object(object))) => object,
        _ => unreachable!("{} is a struct, so its schema is an object", A::NAME),
    }
}

/// Takes a field out of the struct's fields and makes a parameter of it.
fn parameter(fields: &mut Object, name: &str, place: ParameterIn) -> Parameter {
    let schema = fields.properties.remove(name);
    let required = fields.required.iter().any(|required| required == name);
    fields.required.retain(|required| required != name);
    let (description, schema) = split_description(schema.map(never_null));
    ParameterBuilder::new()
        .name(name)
        .parameter_in(place)
        .required(if required {
            Required::True
        } else {
            Required::False
        })
        .description(description)
        .schema(schema)
        .build()
}

/// What stands in a path or a query is never null: an absent value is left out.
fn never_null(schema: RefOr<Schema>) -> RefOr<Schema> {
    match schema {
        RefOr::T(Schema::Object(mut object)) => {
            if let SchemaType::Array(types) = &mut object.schema_type {
                types.retain(|kind| *kind != Type::Null);
                if let [only] = types.as_slice() {
                    object.schema_type = SchemaType::Type(only.clone());
                }
            }
            object.default = object.default.filter(|value| !value.is_null());
            RefOr::T(Schema::Object(object))
        }
        RefOr::T(Schema::OneOf(one_of)) => {
            let null = SchemaType::Type(Type::Null);
            let is_null = |item: &RefOr<Schema>| matches!(item, RefOr::T(Schema::Object(o)) if o.schema_type == null);
            let mut others = one_of.items.iter().filter(|item| !is_null(item));
            match (others.next(), others.next()) {
                (Some(only), None) => only.clone(),
                _ => RefOr::T(Schema::OneOf(one_of)),
            }
        }
        other => other,
    }
}

/// Moves a field's description to its parameter.
fn split_description(schema: Option<RefOr<Schema>>) -> (Option<String>, Option<RefOr<Schema>>) {
    match schema {
        Some(RefOr::Ref(mut reference)) => {
            let description = std::mem::take(&mut reference.description);
            (
                (!description.is_empty()).then_some(description),
                Some(RefOr::Ref(reference)),
            )
        }
        Some(RefOr::T(Schema::Object(mut object))) => (
            object.description.take(),
            Some(RefOr::T(Schema::Object(object))),
        ),
        other => (None, other),
    }
}

fn response(description: &str, answer: Ref) -> Response {
    let content = ContentBuilder::new().schema(Some(answer)).build();
    ResponseBuilder::new()
        .description(description)
        .content("application/json", content)
        .build()
}

/// The header equivalent to the field `if_version`.
fn if_match() -> Parameter {
    ParameterBuilder::new()
        .name("If-Match")
        .parameter_in(ParameterIn::Header)
        .required(Required::False)
        .description(Some(
            "ETag of the answer that the change is based on; `*` for any.",
        ))
        .schema(Some(ObjectBuilder::new().schema_type(Type::String)))
        .build()
}

/// True for answers that show a version, which travels as the ETag too.
fn has_version<A: Act>() -> bool
where
    A::Answer: ToSchema,
{
    matches!(A::Answer::schema(), RefOr::T(Schema::Object(object)) if object.properties.contains_key("version"))
}

fn answered(method: Method, versioned: bool, answer: Ref) -> Response {
    if method == Method::Get {
        let mut response = response("The answer.", answer);
        if versioned {
            let header =
                HeaderBuilder::new().schema(Some(ObjectBuilder::new().schema_type(Type::String)));
            let header = header.description(Some("Version of the record, for If-Match."));
            response
                .headers
                .insert("ETag".to_owned(), header.build().into());
        }
        return response;
    }
    let description = if method == Method::Post {
        "Already booked: the first answer."
    } else {
        "Changed, or changed before."
    };
    let header = HeaderBuilder::new()
        .schema(Some(
            ObjectBuilder::new()
                .schema_type(Type::String)
                .enum_values(Some(["true"])),
        ))
        .description(Some("Present when this request was already booked."));
    let mut response = response(description, answer);
    response
        .headers
        .insert(REPEATED.to_string(), header.build().into());
    response
}

/// Statuses of the problems that an act may answer with.
fn problems(method: Method) -> &'static [u16] {
    match method {
        Method::Get => &[400, 401, 403, 404, 409, 422, 429, 500, 503],
        Method::Post | Method::Patch => {
            &[400, 401, 403, 404, 408, 409, 412, 413, 422, 429, 500, 503]
        }
    }
}
