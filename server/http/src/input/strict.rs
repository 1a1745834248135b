//! Objects are objects: what serde would also read from a list of values by their order is refused, as the document says.

use serde::{
    Deserializer,
    de::{
        Error as _, IntoDeserializer, Unexpected, Visitor,
        value::{MapAccessDeserializer, MapDeserializer, SeqDeserializer},
    },
    forward_to_deserialize_any,
};
use serde_json::{Error, Value};

/// A JSON value whose objects, at any depth, cannot be written as lists.
pub(super) struct Strict(pub(super) Value);

impl<'de> IntoDeserializer<'de, Error> for Strict {
    type Deserializer = Self;
    fn into_deserializer(self) -> Self {
        self
    }
}

impl<'de> Deserializer<'de> for Strict {
    type Error = Error;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.0 {
            Value::Array(items) => {
                let mut items = SeqDeserializer::new(items.into_iter().map(Strict));
                let read = visitor.visit_seq(&mut items)?;
                items.end().map(|()| read)
            }
            Value::Object(fields) => {
                let fields = fields
                    .into_iter()
                    .map(|(name, value)| (name, Strict(value)));
                visitor.visit_map(MapDeserializer::new(fields))
            }
            plain => plain.deserialize_any(visitor),
        }
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        if self.0.is_array() {
            return Err(Error::invalid_type(Unexpected::Seq, &"an object"));
        }
        self.deserialize_any(visitor)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        if self.0.is_null() {
            return visitor.visit_none();
        }
        visitor.visit_some(self)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Error> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        let Value::Object(fields) = self.0 else {
            return self.0.deserialize_enum(name, variants, visitor);
        };
        let fields = fields
            .into_iter()
            .map(|(name, value)| (name, Strict(value)));
        MapAccessDeserializer::new(MapDeserializer::new(fields))
            .deserialize_enum(name, variants, visitor)
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit unit_struct seq tuple
        tuple_struct map identifier ignored_any
    }
}
