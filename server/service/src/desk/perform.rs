//! What every act must be able to do.

use crate::desk::{Desk, failure::Failure};
use ellwand_contract::Act;

/// An act that the service performs; sealed by its private context.
pub trait Perform: Act {
    #[doc(hidden)]
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Self::Answer, Failure>;
}
