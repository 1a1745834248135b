//! What every act must be able to do.

use crate::{context::Context, failure::Failure};
use ellwand_contract::Act;
use ellwand_storage::Tx;

/// An act that the service performs; sealed by its private context.
pub trait Perform: Act {
    #[doc(hidden)]
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<Self::Answer, Failure>;
}
