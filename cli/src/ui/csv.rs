//! Lists for a spreadsheet: one line a row, as RFC 4180 has it.
//!
//! The rows are those of `--json`, so that every list has them: a field is a column, a field inside another one is named
//! `on_hand.length_m`. Lists within a row are left to `--json`, but for lists of words.

use csv::{Terminator, WriterBuilder};
use serde_json::{Map, Value};
use std::io;

/// What may stand beside the rows of a page.
const BESIDE: [&str; 4] = ["in_all", "meta", "more", "on"];

/// The rows of a page; of any other answer itself as one row. Nothing for a page without rows.
pub(super) fn write(answer: &Value) -> io::Result<Vec<u8>> {
    let rows: Vec<Vec<(String, String)>> = rows(answer).iter().map(|row| cells(row)).collect();
    let mut heads: Vec<&str> = Vec::new();
    for (head, _) in rows.iter().flatten() {
        if !heads.contains(&head.as_str()) {
            heads.push(head);
        }
    }
    // A field that is absent here and has fields of its own there.
    let inside = |head: &str, other: &str| {
        let rest = other.strip_prefix(head);
        rest.is_some_and(|rest| rest.starts_with('.'))
    };
    let heads: Vec<&str> = heads
        .iter()
        .filter(|head| !heads.iter().any(|other| inside(head, other)))
        .copied()
        .collect();
    let mut writer = WriterBuilder::new()
        .terminator(Terminator::CRLF)
        .from_writer(Vec::new());
    if !heads.is_empty() {
        writer.write_record(&heads)?;
        for row in &rows {
            let cell = |head: &&str| {
                let found = row.iter().find(|(known, _)| known == head);
                found.map_or("", |(_, cell)| cell.as_str())
            };
            writer.write_record(heads.iter().map(cell))?;
        }
    }
    writer
        .into_inner()
        .map_err(|error| io::Error::other(error.to_string()))
}

fn rows(answer: &Value) -> Vec<&Value> {
    let Value::Object(fields) = answer else {
        return vec![answer];
    };
    let is_page = fields
        .iter()
        .all(|(name, field)| field.is_array() || BESIDE.contains(&name.as_str()));
    match fields.values().find_map(Value::as_array) {
        Some(rows) if is_page => rows.iter().collect(),
        _ => vec![answer],
    }
}

fn cells(row: &Value) -> Vec<(String, String)> {
    let mut cells = Vec::new();
    match row {
        Value::Object(fields) => add(&mut cells, "", fields),
        other => cells.push(("value".to_owned(), cell(other))),
    }
    cells
}

fn add(cells: &mut Vec<(String, String)>, within: &str, fields: &Map<String, Value>) {
    for (name, field) in fields {
        let name = format!("{within}{name}");
        match field {
            Value::Object(inner) => add(cells, &format!("{name}."), inner),
            Value::Array(all) if all.iter().any(|one| one.is_object() || one.is_array()) => {}
            field => cells.push((name, cell(field))),
        }
    }
}

fn cell(value: &Value) -> String {
    match value {
        Value::Null => String::new(),
        Value::String(text) => safe(text),
        Value::Array(all) => safe(&all.iter().map(cell).collect::<Vec<_>>().join("; ")),
        other => other.to_string(),
    }
}

/// Text that a spreadsheet takes for a formula gets a stroke before it; numbers stay plain.
fn safe(text: &str) -> String {
    let is_number = {
        let digits = text.strip_prefix('-').unwrap_or(text);
        let plain = digits
            .bytes()
            .all(|byte| byte.is_ascii_digit() || byte == b'.');
        plain && digits.bytes().any(|byte| byte.is_ascii_digit())
    };
    match text.starts_with(['=', '+', '-', '@', '\t', '\r']) && !is_number {
        true => format!("'{text}"),
        false => text.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::write;
    use serde_json::json;

    fn text(answer: &serde_json::Value) -> String {
        String::from_utf8(write(answer).expect("text")).expect("text")
    }

    /// RFC 4180: lines end with CRLF; a cell with a comma, a quote or a line break is quoted, its quotes doubled.
    #[test]
    fn a_page_is_a_line_a_row() {
        let page = json!({"pieces": [
            {"piece": "L1.1", "name": "wool, \"navy\"", "on_hand": {"length_m": "2.6"}, "value": null, "codes": ["R1", "R2"]},
            {"piece": "L2.1", "name": "button", "on_hand": {"count": 6}, "value": "-1.5", "codes": [], "flaws": [{"at": 1}]},
        ], "meta": {}});
        assert_eq!(
            text(&page),
            "piece,name,on_hand.length_m,value,codes,on_hand.count\r\n\
             L1.1,\"wool, \"\"navy\"\"\",2.6,,R1; R2,\r\n\
             L2.1,button,,-1.5,,6\r\n"
        );
        assert_eq!(text(&json!({"pieces": [], "meta": {}})), "");
    }

    /// What a spreadsheet would run is text for it, by common practice.
    #[test]
    fn no_cell_is_a_formula() {
        let page = json!({"rows": [{"a": "=1+1", "b": "+49 40", "c": "-2.6", "d": "@x", "e": "-x", "f": "-", "g": 7}]});
        assert_eq!(
            text(&page),
            "a,b,c,d,e,f,g\r\n'=1+1,'+49 40,-2.6,'@x,'-x,'-,7\r\n"
        );
    }

    #[test]
    fn anything_else_is_one_row() {
        let thing = json!({"code": "G1", "due": null, "for": {"name": "Ada"}, "needs": [{"role": "shell"}]});
        assert_eq!(text(&thing), "code,due,for.name\r\nG1,,Ada\r\n");
        let absent = json!({"rows": [{"for": null}, {"for": {"name": "Ada"}}]});
        assert_eq!(text(&absent), "for.name\r\n\"\"\r\nAda\r\n");
    }
}
