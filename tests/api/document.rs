//! The OpenAPI document: the contract as others read it. A change to it shows in the snapshot.

use crate::app::TestApp;
use ellwand_contract::{Method, ProblemType, act::path_fields};
use ellwand_server::{openapi, router::table};
use serde_json::{Value, json};
use std::collections::BTreeSet;

fn document() -> Value {
    serde_json::from_str(&openapi::pretty()).unwrap()
}

/// Calls `look` on every object of the document, with the way to it.
fn walk(value: &Value, way: &str, look: &mut dyn FnMut(&str, &serde_json::Map<String, Value>)) {
    match value {
        Value::Object(object) => {
            look(way, object);
            object
                .iter()
                .for_each(|(key, value)| walk(value, &format!("{way}/{key}"), look));
        }
        Value::Array(items) => items.iter().for_each(|item| walk(item, way, look)),
        _ => {}
    }
}

#[actix_web::test]
async fn the_document_is_served_as_it_is_printed() {
    let reply = TestApp::new().get("/v1/openapi.json").await;
    assert_eq!(reply.status, 200);
    assert_eq!(reply.header("content-type"), Some("application/json"));
    assert_eq!(reply.body, document());
}

#[test]
fn the_document_is_as_reviewed() {
    let mut document = document();
    document["info"]["version"] = "[version]".into();
    insta::assert_json_snapshot!("openapi", document);
}

#[test]
fn every_reference_leads_somewhere() {
    let document = document();
    let mut references = 0;
    walk(&document, "", &mut |way, object| {
        if let Some(reference) = object.get("$ref") {
            references += 1;
            let pointer = reference
                .as_str()
                .and_then(|text| text.strip_prefix('#'))
                .unwrap();
            assert!(
                document.pointer(pointer).is_some(),
                "{way} refers to {reference}"
            );
        }
    });
    assert!(references > 100, "{references}");
}

#[test]
fn every_component_is_used() {
    let document = document();
    let mut used = BTreeSet::new();
    walk(&document, "", &mut |_, object| {
        used.extend(
            object
                .get("$ref")
                .and_then(Value::as_str)
                .map(str::to_owned),
        );
    });
    // A scheme is named by the document's requirement, not referred to.
    let required = document["security"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|one| one.as_object().unwrap().keys());
    used.extend(required.map(|scheme| format!("#/components/securitySchemes/{scheme}")));
    for (kind, components) in document["components"].as_object().unwrap() {
        for name in components.as_object().unwrap().keys() {
            let reference = format!("#/components/{kind}/{name}");
            assert!(used.contains(&reference), "{reference} is not used");
        }
    }
}

#[test]
fn required_fields_exist_and_no_object_refuses_what_it_holds() {
    walk(&document(), "", &mut |way, object| {
        if let (Some(required), Some(properties)) =
            (object.get("required"), object.get("properties"))
        {
            for name in required.as_array().into_iter().flatten() {
                assert!(
                    properties.get(name.as_str().unwrap()).is_some(),
                    "{way} requires {name}"
                );
            }
        }
        assert!(
            !object.contains_key("allOf"),
            "{way}: halves that refuse unknown fields refuse each other's"
        );
    });
}

#[test]
fn every_act_stands_in_the_document_with_its_fields_and_responses() {
    let document = document();
    let mut operations = BTreeSet::new();
    for entry in table().entries() {
        let (method, statuses): (_, &[&str]) = match entry.method {
            Method::Get => ("get", &["200", "404", "422", "500", "503"]),
            Method::Post => (
                "post",
                &["200", "201", "404", "409", "413", "422", "500", "503"],
            ),
            Method::Patch => ("patch", &["200", "404", "409", "413", "422", "500", "503"]),
        };
        let operation = &document["paths"][entry.path][method];
        assert_eq!(operation["operationId"], entry.name);
        assert!(operations.insert(entry.name), "{} stands twice", entry.name);
        for status in statuses {
            assert!(
                operation["responses"].get(status).is_some(),
                "{} lacks {status}",
                entry.name
            );
        }
        let parameters = operation["parameters"].as_array().unwrap();
        let in_path =
            |p: &&Value| p["in"] == "path" && p["required"] == true && p["schema"].is_object();
        let declared: Vec<_> = parameters
            .iter()
            .filter(in_path)
            .map(|p| p["name"].as_str().unwrap())
            .collect();
        assert_eq!(
            declared,
            path_fields(entry.path).collect::<Vec<_>>(),
            "{}",
            entry.name
        );
        if entry.method == Method::Get {
            assert!(operation.get("requestBody").is_none());
        } else {
            let reference =
                operation["requestBody"]["content"]["application/json"]["schema"]["$ref"].as_str();
            let body = document
                .pointer(reference.unwrap().trim_start_matches('#'))
                .unwrap();
            assert_eq!(body["additionalProperties"], false, "{}", entry.name);
            assert!(body["properties"].get("id").is_some(), "{}", entry.name);
            for field in path_fields(entry.path) {
                assert!(
                    body["properties"].get(field).is_none(),
                    "{} has {field} twice",
                    entry.name
                );
            }
        }
    }
}

#[test]
fn fields_that_are_reported_by_query_have_their_types() {
    let document = document();
    let parameters = document["paths"]["/v1/shelf"]["get"]["parameters"]
        .as_array()
        .unwrap();
    let find = |name: &str| parameters.iter().find(|p| p["name"] == name).unwrap();
    assert_eq!(find("limit")["schema"]["type"], "integer");
    assert_eq!(find("kind")["schema"]["$ref"], "#/components/schemas/Kind");
    assert_eq!(find("mass_min")["schema"]["type"], "string");
    assert!(
        parameters
            .iter()
            .filter(|p| p["in"] == "query")
            .all(|p| p["required"] == false)
    );
}

#[test]
fn every_problem_type_stands_in_the_document() {
    let document = document();
    let slugs = document["components"]["schemas"]["ProblemType"]["enum"]
        .as_array()
        .unwrap()
        .clone();
    assert_eq!(slugs.len(), ProblemType::ALL.len());
    let of_404 = document["components"]["responses"]["Problem404"]["description"]
        .as_str()
        .unwrap();
    assert!(of_404.contains("`not-found`"), "{of_404}");
    for kind in ProblemType::ALL {
        assert!(slugs.contains(&Value::from(kind.slug())), "{}", kind.slug());
    }
}

#[test]
fn the_words_of_closed_lists_stand_in_the_document_as_they_travel() {
    use ellwand_domain::setting::{
        Basis, BookingKind, CutReason, End, GarmentState, Grain, Kind, MeasuredAfter, OffcutValue,
        PooledMethod, ReservationState, Spoilage, TrimUnit, UnitSystem, WorkKind, WorkReason,
    };
    let document = document();
    macro_rules! check {
        ($($list:ident)+) => {$(
            let words: Vec<Value> = $list::ALL.iter().map(|word| serde_json::to_value(word).unwrap()).collect();
            let listed = &document["components"]["schemas"][stringify!($list)]["enum"];
            assert_eq!(*listed, Value::Array(words), "{}", stringify!($list));
        )+};
    }
    check!(Basis BookingKind CutReason End GarmentState Grain Kind MeasuredAfter OffcutValue PooledMethod);
    check!(ReservationState Spoilage TrimUnit UnitSystem WorkKind WorkReason);
}

/// The document and the server draw the same border: a page has a row at least, and records are numbered from 1.
#[actix_web::test]
async fn the_document_allows_no_page_without_rows_and_no_record_zero() {
    let (app, document) = (TestApp::new(), document());
    let planned = json!({"id": "0192f0c8-5c00-7000-8000-000000000021", "name": "vest"});
    assert_eq!(app.post("/v1/garments", planned).await.status, 201);
    let mut pages = 0;
    for entry in table().entries() {
        let operation = &document["paths"][entry.path]["get"];
        let limit = operation["parameters"]
            .as_array()
            .and_then(|all| all.iter().find(|p| p["name"] == "limit"));
        let Some(schema) = limit
            .map(|limit| &limit["schema"])
            .filter(|_| entry.method == Method::Get)
        else {
            continue;
        };
        pages += 1;
        let most = schema["maximum"].as_u64().unwrap();
        assert_eq!(schema["minimum"], 1, "{}", entry.name);
        for (rows, status) in [(0, 400), (1, 200), (most, 200), (most + 1, 400)] {
            let path = entry.path.replace("{garment}", "G1");
            let reply = app.get(&format!("{path}?limit={rows}")).await;
            assert_eq!(
                reply.status, status,
                "{} {rows}: {}",
                entry.path, reply.body
            );
        }
    }
    assert!(pages > 5, "{pages}");
    let mut codes = 0;
    for (name, schema) in document["components"]["schemas"].as_object().unwrap() {
        if let Some(pattern) = schema["pattern"]
            .as_str()
            .filter(|_| name.ends_with("Code"))
        {
            codes += 1;
            assert!(
                !pattern.contains("[0-9]{1,18}") && pattern.contains("0*[1-9]"),
                "{name}: {pattern}"
            );
        }
    }
    assert_eq!(codes, 12);
    for (lot, status) in [("L0", 422), ("L000", 422), ("L1", 404), ("l007", 404)] {
        assert_eq!(
            app.get(&format!("/v1/lots/{lot}")).await.status,
            status,
            "{lot}"
        );
    }
    let longest = format!("L{}{}", "0".repeat(30), "9".repeat(18));
    assert_eq!(app.get(&format!("/v1/lots/{longest}")).await.status, 404);
    assert_eq!(app.get(&format!("/v1/lots/{longest}9")).await.status, 422);
}
