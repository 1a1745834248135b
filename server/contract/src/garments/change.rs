//! A change of a plan: only what differs from it.

#[cfg(feature = "clap")]
use crate::pairs;
use crate::{
    garments::{NeedInput, OperationInput, PartInput},
    json,
    seams::SeamInput,
};
use serde::{Deserialize, Deserializer, Serialize, de::DeserializeOwned, de::Error as _};
use serde_json::{Map, Value};
use serde_with::skip_serializing_none;
use std::marker::PhantomData;

/// What a plan has several of, told apart by a name, and a change of which says only what differs.
pub trait Changeable: Serialize + DeserializeOwned {
    /// What it is called, for messages: `need`.
    const WHAT: &'static str;
    /// Field that tells one from another.
    const NAME: &'static str;
    /// Name of its change in the OpenAPI document.
    const CHANGE: &'static str;
    /// Fields that none can be without, each with a value that can be read.
    const NEEDED: &'static [(&'static str, &'static str)];
    /// Fields that say the same in another way: where the first is given, the others give way.
    const INSTEAD: &'static [(&'static str, &'static [&'static str])];
}

impl Changeable for NeedInput {
    const WHAT: &'static str = "need";
    const NAME: &'static str = "role";
    const CHANGE: &'static str = "NeedChange";
    const NEEDED: &'static [(&'static str, &'static str)] = &[];
    const INSTEAD: &'static [(&'static str, &'static [&'static str])] = &[
        (
            "length",
            &["widths", "seams", "count", "spares", "matching"],
        ),
        ("widths", &["length", "width"]),
        ("count", &["length"]),
        ("seams", &["length"]),
        ("material", &["lot"]),
        ("lot", &["material"]),
        ("stiff_like", &["stiffness_min", "stiffness_max"]),
        ("stiffness_min", &["stiff_like"]),
        ("stiffness_max", &["stiff_like"]),
    ];
}

impl Changeable for PartInput {
    const WHAT: &'static str = "part";
    const NAME: &'static str = "name";
    const CHANGE: &'static str = "PartChange";
    const NEEDED: &'static [(&'static str, &'static str)] =
        &[("length", "46cm"), ("width", "12cm")];
    const INSTEAD: &'static [(&'static str, &'static [&'static str])] = &[];
}

impl Changeable for OperationInput {
    const WHAT: &'static str = "operation";
    const NAME: &'static str = "name";
    const CHANGE: &'static str = "OperationChange";
    const NEEDED: &'static [(&'static str, &'static str)] =
        &[("kind", "hand"), ("planned", "2h30")];
    const INSTEAD: &'static [(&'static str, &'static [&'static str])] = &[];
}

impl Changeable for SeamInput {
    const WHAT: &'static str = "seam";
    const NAME: &'static str = "name";
    const CHANGE: &'static str = "SeamChange";
    const NEEDED: &'static [(&'static str, &'static str)] = &[("stitch", "301")];
    const INSTEAD: &'static [(&'static str, &'static [&'static str])] = &[
        ("per_cm", &["step"]),
        ("step", &["per_cm"]),
        ("each", &["sample", "sample_needle", "sample_under"]),
        ("sample", &["each"]),
    ];
}

/// What differs of one `T` of a plan: its name, and the fields that are given. A field that is left out keeps what the plan says; null, or an
/// empty text, clears it. One that the plan does not have must be whole.
#[derive(Debug, PartialEq, Serialize)]
#[serde(transparent)]
pub struct Change<T> {
    fields: Map<String, Value>,
    #[serde(skip)]
    of: PhantomData<fn() -> T>,
}

impl<T> Clone for Change<T> {
    fn clone(&self) -> Self {
        Self {
            fields: self.fields.clone(),
            of: PhantomData,
        }
    }
}

/// A change of a need; parts are changed by their names, those that are not named stay.
pub type NeedChange = Change<NeedInput>;
/// A change of a part of a need.
pub type PartChange = Change<PartInput>;
/// A change of an operation.
pub type OperationChange = Change<OperationInput>;
/// A change of a seam.
pub type SeamChange = Change<SeamInput>;

impl<T: Changeable> Change<T> {
    /// A change of the one of this name.
    #[must_use]
    pub fn of(name: &str) -> Self {
        Self::new(Map::new()).with(T::NAME, name)
    }

    /// All of one, as its change.
    ///
    /// # Errors
    /// What JSON cannot hold.
    pub fn all_of(whole: &T) -> Result<Self, serde_json::Error> {
        match json::tree(whole)? {
            Value::Object(fields) => Ok(Self::new(fields)),
            _ => Ok(Self::new(Map::new())),
        }
    }

    /// Gives a field; null clears it.
    #[must_use]
    pub fn with(mut self, field: &str, value: impl Into<Value>) -> Self {
        self.fields.insert(field.to_owned(), value.into());
        self
    }

    /// A change of these fields, the name among them; null clears.
    #[must_use]
    pub const fn new(fields: Map<String, Value>) -> Self {
        Self {
            fields,
            of: PhantomData,
        }
    }

    /// The name that it is about.
    #[must_use]
    pub fn name(&self) -> &str {
        let name = self.fields.get(T::NAME).and_then(Value::as_str);
        name.unwrap_or_default()
    }

    /// True where the field is given, not cleared.
    #[must_use]
    pub fn gives(&self, field: &str) -> bool {
        self.fields.get(field).is_some_and(|value| !value.is_null())
    }

    /// Fields that are given or cleared, the name not among them.
    pub fn fields(&self) -> impl Iterator<Item = &str> {
        let fields = self.fields.keys().map(String::as_str);
        fields.filter(|field| *field != T::NAME)
    }

    /// This change over what the plan has.
    ///
    /// # Errors
    /// A field that none can be without is cleared, or one is null that cannot be.
    pub fn over(&self, known: &T) -> Result<T, serde_json::Error> {
        let mut fields = match json::tree(known)? {
            Value::Object(fields) => fields,
            _ => Map::new(),
        };
        for (given, others) in T::INSTEAD {
            if self.gives(given) {
                others.iter().for_each(|other| drop(fields.remove(*other)));
            }
        }
        for (field, value) in &self.fields {
            match value {
                Value::Null => drop(fields.remove(field)),
                value => drop(fields.insert(field.clone(), value.clone())),
            }
        }
        serde_json::from_value(Value::Object(fields))
    }

    /// All of it, of one that the plan does not have.
    ///
    /// # Errors
    /// A field is missing that none can be without.
    pub fn whole(&self) -> Result<T, serde_json::Error> {
        let given = self.fields.iter().filter(|(_, value)| !value.is_null());
        let fields = given.map(|(field, value)| (field.clone(), value.clone()));
        serde_json::from_value(Value::Object(fields.collect()))
    }

    /// Fields that none can be without and that are not given.
    #[must_use]
    pub fn missing(&self) -> Vec<&'static str> {
        let needed = T::NEEDED.iter().map(|(field, _)| *field);
        needed.filter(|field| !self.gives(field)).collect()
    }

    /// Reads each field as `T` does, whatever else is missing; all that cannot be read.
    fn check(&self) -> Result<(), String> {
        let no_name = || format!("missing field `{}`", T::NAME);
        let name = self.fields.get(T::NAME).ok_or_else(no_name)?;
        let slip = |(field, value): (&String, &Value)| {
            let needed = T::NEEDED.iter();
            let mut one: Map<String, Value> = needed
                .map(|(field, text)| ((*field).to_owned(), Value::from(*text)))
                .collect();
            one.insert(T::NAME.to_owned(), name.clone());
            one.insert(field.clone(), value.clone());
            let error = serde_json::from_value::<T>(Value::Object(one)).err()?;
            let error = error.to_string();
            match error.starts_with("unknown field") {
                true => Some(error),
                // Of a field that is cleared only the name counts.
                false if value.is_null() && field != T::NAME => None,
                false => Some(format!("{field}: {error}")),
            }
        };
        let slips: Vec<String> = self.fields.iter().filter_map(slip).collect();
        match slips.is_empty() {
            true => Ok(()),
            false => Err(slips.join("; ")),
        }
    }
}

impl NeedChange {
    /// Takes the changes of its parts out.
    ///
    /// # Errors
    /// What is no list of parts.
    pub fn take_parts(&mut self) -> Result<Vec<PartChange>, serde_json::Error> {
        match self.fields.remove("part") {
            Some(Value::Null) | None => Ok(Vec::new()),
            Some(parts) => serde_json::from_value(parts),
        }
    }

    /// Adds the change of a part.
    pub fn add_part(&mut self, part: PartChange) {
        let parts = self
            .fields
            .entry("part")
            .or_insert_with(|| Value::Array(Vec::new()));
        if let Value::Array(parts) = parts {
            parts.push(Value::Object(part.fields));
        }
    }
}

impl<'de, T: Changeable> Deserialize<'de> for Change<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let mut change = Self::new(Map::deserialize(deserializer)?);
        for value in change.fields.values_mut() {
            if value.as_str() == Some("") {
                *value = Value::Null;
            }
        }
        let mut checked = change.clone();
        if T::WHAT == NeedInput::WHAT
            && let Some(parts) = checked
                .fields
                .remove("part")
                .filter(|parts| !parts.is_null())
        {
            let parts: Vec<PartChange> = serde_json::from_value(parts).map_err(D::Error::custom)?;
            let parts = json::tree(&parts).map_err(D::Error::custom)?;
            change.fields.insert("part".to_owned(), parts);
        }
        checked.check().map_err(D::Error::custom)?;
        Ok(change)
    }
}

#[cfg(feature = "openapi")]
mod schema {
    use super::{Change, Changeable, NeedInput, PartInput};
    use std::borrow::Cow;
    use utoipa::{
        PartialSchema, ToSchema,
        openapi::{ArrayBuilder, Ref, RefOr, Schema},
    };

    const PARTS: &str = "part";

    impl<T: Changeable + ToSchema> PartialSchema for Change<T> {
        fn schema() -> RefOr<Schema> {
            let mut schema = T::schema();
            if let RefOr::T(Schema::Object(object)) = &mut schema {
                if object.properties.contains_key(PARTS) {
                    let part = Ref::from_schema_name(PartInput::CHANGE);
                    let parts = ArrayBuilder::new().items(part).build();
                    object
                        .properties
                        .insert(PARTS.to_owned(), RefOr::T(Schema::Array(parts)));
                }
                object.required = vec![T::NAME.to_owned()];
                object.description = Some(format!(
                    "What differs of one {}. A field that is left out keeps what the plan says, an empty text clears it; one that the \
                     plan does not have must be whole.",
                    T::WHAT
                ));
            }
            schema
        }
    }

    impl<T: Changeable + ToSchema> ToSchema for Change<T> {
        fn name() -> Cow<'static, str> {
            Cow::Borrowed(T::CHANGE)
        }

        fn schemas(schemas: &mut Vec<(String, RefOr<Schema>)>) {
            T::schemas(schemas);
            if T::WHAT == NeedInput::WHAT {
                let part = Change::<PartInput>::schema();
                schemas.push((PartInput::CHANGE.to_owned(), part));
            }
        }
    }
}

/// A part of a need, by their names.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args), group(skip))]
pub struct PartName {
    /// Role of its need.
    #[cfg_attr(feature = "clap", arg(long, value_name = "collar canvas"))]
    pub need: String,
    /// Name of the part.
    #[cfg_attr(feature = "clap", arg(long, value_name = "collar"))]
    pub name: String,
}

/// What differs from a plan. A file for `ellwand garment edit` or `copy` is this in TOML.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args), group(skip))]
pub struct PlanChanges {
    /// What differs of a need, by its role, or a new need as in a plan: 'role=shell,material=M9' keeps all else, 'lot=' clears a key; may be
    /// repeated.
    #[serde(rename = "need", skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long = "need", value_name = "KEY=VALUE,…", value_parser = pairs::parse_change::<NeedInput>))]
    pub needs: Vec<NeedChange>,
    /// Role of a need to remove; may be repeated.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long = "drop-need", value_name = "ROLE"))]
    pub drop_needs: Vec<String>,
    /// Part to remove: 'need=collar canvas,name=stand'; may be repeated.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long = "drop-part", value_name = "PAIRS", value_parser = pairs::parse_args::<PartName>))]
    pub drop_parts: Vec<PartName>,
    /// What differs of an operation, by its name, or a new one; may be repeated.
    #[serde(rename = "operation", skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long = "operation", value_name = "KEY=VALUE,…", value_parser = pairs::parse_change::<OperationInput>))]
    pub operations: Vec<OperationChange>,
    /// Name of an operation to remove; may be repeated. Minutes worked on it stay.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long = "drop-operation", value_name = "NAME"))]
    pub drop_operations: Vec<String>,
    /// What differs of a seam, by its name, or a new one; may be repeated.
    #[serde(rename = "seam", skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long = "seam", value_name = "KEY=VALUE,…", value_parser = pairs::parse_change::<SeamInput>))]
    pub seams: Vec<SeamChange>,
    /// Name of a seam to remove; may be repeated.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long = "drop-seam", value_name = "NAME"))]
    pub drop_seams: Vec<String>,
    /// Tail of each thread at each start and finish of a seam.
    #[cfg_attr(feature = "clap", arg(long, value_name = "LENGTH", value_parser = crate::typed::length, allow_hyphen_values = true))]
    pub seam_ends: Option<String>,
    /// Share of thread that is wasted: 15%.
    #[cfg_attr(feature = "clap", arg(long, value_name = "PERCENT", value_parser = crate::typed::share, allow_hyphen_values = true))]
    pub seam_waste: Option<String>,
}

impl PlanChanges {
    /// True where nothing is changed.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        self.needs.is_empty()
            && self.drop_needs.is_empty()
            && self.drop_parts.is_empty()
            && self.operations.is_empty()
            && self.drop_operations.is_empty()
            && self.keeps_seams()
    }

    /// True where nothing is said of seams.
    #[must_use]
    pub fn keeps_seams(&self) -> bool {
        self.seams.is_empty()
            && self.drop_seams.is_empty()
            && self.seam_ends.is_none()
            && self.seam_waste.is_none()
    }

    /// Adds other changes behind these.
    #[must_use]
    pub fn and(mut self, other: Self) -> Self {
        self.needs.extend(other.needs);
        self.drop_needs.extend(other.drop_needs);
        self.drop_parts.extend(other.drop_parts);
        self.operations.extend(other.operations);
        self.drop_operations.extend(other.drop_operations);
        self.seams.extend(other.seams);
        self.drop_seams.extend(other.drop_seams);
        self.seam_ends = other.seam_ends.or(self.seam_ends);
        self.seam_waste = other.seam_waste.or(self.seam_waste);
        self
    }
}
