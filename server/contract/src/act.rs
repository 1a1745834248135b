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

/// Marks an act that is in the list of acts.
pub trait Listed {}

/// One thing a person can ask of the book.
pub trait Act: Listed + Serialize + DeserializeOwned + Send + Sync + 'static {
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

    /// Gives the request its id; reads have none.
    fn set_request_id(&mut self, id: Uuid);

    /// True for a write that only asks what it would come to: nothing is booked, and its answer is not kept.
    fn is_trial(&self) -> bool {
        false
    }

    /// Clears from an answer what its reader may not see.
    fn conceal(answer: &mut Self::Answer, sees: Sees) {
        let _ = (answer, sees);
    }

    /// The version of the record that an answer shows: what a change of it may name as the one it was made for.
    fn version(answer: &Self::Answer) -> Option<String> {
        let _ = answer;
        None
    }

    /// Seconds that the client is willing to wait for news.
    fn patience_s(&self) -> u32 {
        0
    }

    /// True for an answer with something new in it.
    fn has_news(answer: &Self::Answer) -> bool {
        let _ = answer;
        true
    }
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
    path.split('/')
        .filter_map(|part| part.strip_prefix('{')?.strip_suffix('}'))
}

/// Declares the route of a request type: what it does, its answer, name, path and summary; then what is needed for it unless
/// that is plain reading or a maker's work, and flags: `conceals` when its answer shows prices to some and not to others,
/// `versioned` when its answer has a version, `tries` when its field `check` only tries it, `waits` when it may wait for news.
macro_rules! act {
    (read $request:ty => $answer:ty, $name:literal, $path:literal, $summary:literal $($rest:tt)*) => {
        act!(@as Get, $request => $answer, $name, $path, $summary, Read, None; $($rest)*);
    };
    (post $request:ty => $answer:ty, $name:literal, $path:literal, $summary:literal $($rest:tt)*) => {
        act!(@as Post, $request => $answer, $name, $path, $summary, Trade, id; $($rest)*);
    };
    (patch $request:ty => $answer:ty, $name:literal, $path:literal, $summary:literal $($rest:tt)*) => {
        act!(@as Patch, $request => $answer, $name, $path, $summary, Trade, id; $($rest)*);
    };
    (@as $method:ident, $request:ty => $answer:ty, $name:literal, $path:literal, $summary:literal, $usual:ident, $id:ident;
        $(, needs $access:ident)? $(; $flag:ident)*) => {
        impl $crate::Act for $request {
            type Answer = $answer;
            const NAME: &'static str = $name;
            const METHOD: $crate::Method = $crate::Method::$method;
            const PATH: &'static str = $path;
            const SUMMARY: &'static str = $summary;
            const ACCESS: $crate::access::Access = act!(@access $usual $($access)?);
            act!(@id $id);
            $(act!(@flag $flag);)*
        }
    };
    (@id None) => {
        fn request_id(&self) -> Option<uuid::Uuid> {
            None
        }
        fn set_request_id(&mut self, _: uuid::Uuid) {}
    };
    (@id id) => {
        fn request_id(&self) -> Option<uuid::Uuid> {
            Some(self.id)
        }
        fn set_request_id(&mut self, id: uuid::Uuid) {
            self.id = id;
        }
    };
    (@access $usual:ident) => { $crate::access::Access::$usual };
    (@access $usual:ident $access:ident) => { $crate::access::Access::$access };
    (@flag conceals) => {
        fn conceal(answer: &mut Self::Answer, sees: $crate::access::Sees) {
            $crate::access::Conceal::conceal(answer, sees);
        }
    };
    (@flag versioned) => {
        fn version(answer: &Self::Answer) -> Option<String> {
            Some(answer.version.to_string())
        }
    };
    (@flag tries) => {
        fn is_trial(&self) -> bool {
            self.check
        }
    };
    (@flag waits) => {
        fn patience_s(&self) -> u32 {
            self.wait_s
        }
        fn has_news(answer: &Self::Answer) -> bool {
            !answer.changes.is_empty()
        }
    };
}
pub(crate) use act;
