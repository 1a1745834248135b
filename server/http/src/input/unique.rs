//! JSON in which no name stands twice: of two values one would be lost without a word.

use serde::{
    Deserialize, Deserializer,
    de::{self, MapAccess, SeqAccess, Visitor},
};
use serde_json::{Map, Number, Value};
use std::fmt;

/// A JSON value; a name that appears twice in one object is refused.
pub(super) struct Unique(pub(super) Value);

impl<'de> Deserialize<'de> for Unique {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Reader).map(Self)
    }
}

struct Reader;

impl<'de> Visitor<'de> for Reader {
    type Value = Value;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a JSON value")
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Value, E> {
        Ok(Value::Bool(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Value, E> {
        Ok(Value::from(value))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Value, E> {
        Ok(Value::from(value))
    }

    fn visit_f64<E: de::Error>(self, value: f64) -> Result<Value, E> {
        Number::from_f64(value)
            .map(Value::Number)
            .ok_or_else(|| E::custom("a number that is none"))
    }

    fn visit_str<E>(self, value: &str) -> Result<Value, E> {
        Ok(Value::String(value.to_owned()))
    }

    fn visit_string<E>(self, value: String) -> Result<Value, E> {
        Ok(Value::String(value))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Value, A::Error> {
        let mut all = Vec::new();
        while let Some(Unique(item)) = items.next_element()? {
            all.push(item);
        }
        Ok(Value::Array(all))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut fields: A) -> Result<Value, A::Error> {
        let mut all = Map::new();
        while let Some(name) = fields.next_key::<String>()? {
            if all.contains_key(&name) {
                return Err(de::Error::custom(format!(
                    "\"{name}\" appears twice in one object"
                )));
            }
            let Unique(value) = fields.next_value()?;
            all.insert(name, value);
        }
        Ok(Value::Object(all))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_is_read_as_serde_json_reads_it_unless_a_name_stands_twice() {
        for text in [
            r#"{"a":[1,-2,1.5,"x",null,true],"b":{"a":{}}}"#,
            "[]",
            "18446744073709551615",
            "\"é\"",
        ] {
            let Unique(value) = serde_json::from_str(text).expect("JSON");
            assert_eq!(value, serde_json::from_str::<Value>(text).expect("JSON"));
        }
        for text in [
            r#"{"a":1,"a":1}"#,
            r#"{"line":[{"paid":"1m","price":"1","paid":"2m"}]}"#,
        ] {
            let message = serde_json::from_str::<Unique>(text)
                .map(|_| ())
                .expect_err("a name twice")
                .to_string();
            assert!(message.contains("appears twice in one object"), "{message}");
        }
    }
}
