//! The trait that ties a request type to its route.

use crate::access::{Access, Sees};
use serde::{Serialize, de::DeserializeOwned};
use uuid::Uuid;

/// HTTP method of an act.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// Reads; fields outside the path travel in the query.
    Get,
    /// Books something; fields outside the path travel in the JSON body.
    Post,
    /// Changes a record; fields outside the path travel in the JSON body.
    Patch,
}

/// One thing a person can ask of the book.
pub trait Act: Serialize + DeserializeOwned + Send + Sync + 'static {
    /// What comes back.
    type Answer: Serialize + DeserializeOwned + Send + 'static;
    /// `snake_case` name: the operation id, and the act's name in the table of requests.
    const NAME: &'static str;
    /// Method of its route.
    const METHOD: Method;
    /// Path of its route; `{name}` stands for the field of that name.
    const PATH: &'static str;
    /// One sentence for the OpenAPI document.
    const SUMMARY: &'static str;
    /// What a person must be allowed to do.
    const ACCESS: Access;

    /// The id the client made for this request; `None` for reads.
    fn request_id(&self) -> Option<Uuid>;

    /// Takes out of an answer what its reader is not told.
    fn conceal(answer: &mut Self::Answer, sees: Sees);
}

/// An answer, and whether this request was booked now or had been before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outcome<T> {
    /// The answer; for a repeated request the first one.
    pub answer: T,
    /// True when the same request had been booked before.
    pub repeated: bool,
}

/// Names of the path's fields, in order: `/v1/pieces/{piece}/split` → `["piece"]`.
pub fn path_fields(path: &str) -> impl Iterator<Item = &str> {
    path.split('/').filter_map(|part| part.strip_prefix('{')?.strip_suffix('}'))
}

/// Declares the route of a request type: what it does, its answer, name, path and summary; then what is needed for it unless
/// that is plain reading or daily work, and `conceals` when its answer tells prices to some and not to others.
macro_rules! act {
    (read $request:ty => $answer:ty, $name:literal, $path:literal, $summary:literal $($rest:tt)*) => {
        act!(@as Get, $request => $answer, $name, $path, $summary, Read, |_| None; $($rest)*);
    };
    (post $request:ty => $answer:ty, $name:literal, $path:literal, $summary:literal $($rest:tt)*) => {
        act!(@as Post, $request => $answer, $name, $path, $summary, Daily, |act: &Self| Some(act.id); $($rest)*);
    };
    (patch $request:ty => $answer:ty, $name:literal, $path:literal, $summary:literal $($rest:tt)*) => {
        act!(@as Patch, $request => $answer, $name, $path, $summary, Daily, |act: &Self| Some(act.id); $($rest)*);
    };
    (@as $method:ident, $request:ty => $answer:ty, $name:literal, $path:literal, $summary:literal, $usual:ident, $id:expr;
        $(, needs $access:ident)? $(; $conceals:ident)?) => {
        impl $crate::Act for $request {
            type Answer = $answer;
            const NAME: &'static str = $name;
            const METHOD: $crate::Method = $crate::Method::$method;
            const PATH: &'static str = $path;
            const SUMMARY: &'static str = $summary;
            const ACCESS: $crate::access::Access = act!(@access $usual $($access)?);
            fn request_id(&self) -> Option<uuid::Uuid> {
                let id: fn(&Self) -> Option<uuid::Uuid> = $id;
                id(self)
            }
            fn conceal(answer: &mut $answer, sees: $crate::access::Sees) {
                act!(@conceal answer, sees $(, $conceals)?);
            }
        }
    };
    (@access $usual:ident) => { $crate::access::Access::$usual };
    (@access $usual:ident $access:ident) => { $crate::access::Access::$access };
    (@conceal $answer:ident, $sees:ident) => { let _ = ($answer, $sees); };
    (@conceal $answer:ident, $sees:ident, conceals) => {
        $crate::access::Conceal::conceal($answer, $sees);
    };
}
pub(crate) use act;
