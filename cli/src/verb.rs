//! What every command does: it completes its request, sends it, and prints the answer as JSON or for people.

use crate::{client::Askable, command_error::CommandError, context::Context};
use ellwand_contract::Method;

/// A command.
pub trait Run {
    /// Does what was typed.
    ///
    /// # Errors
    /// Why it ended without its result.
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError>;
}

/// A request that is typed as it is sent.
pub trait Verb: Askable {
    /// Completes, checks or confirms the request before it is sent.
    ///
    /// # Errors
    /// What cannot be sent, or a no.
    fn prepare(&mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let _ = context;
        Ok(())
    }

    /// Shows the answer to people.
    fn show(&self, answer: Self::Answer, context: &mut Context<'_, '_>)
    -> Result<(), CommandError>;
}

impl<V: Verb> Run for V {
    fn run(mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        self.prepare(context)?;
        if V::METHOD != Method::Get {
            self.set_request_id(context.new_id());
        }
        match context.answer(&self)? {
            Some(answer) => self.show(answer, context),
            None => Ok(()),
        }
    }
}

/// Runs whichever of several commands was typed, and the arguments that hold it in `verb`.
macro_rules! runs {
    ($args:ident, $verb:ident: $($name:ident),+) => {
        impl $crate::verb::Run for $args {
            fn run(
                self,
                context: &mut $crate::context::Context<'_, '_>,
            ) -> Result<(), $crate::command_error::CommandError> {
                self.verb.run(context)
            }
        }
        runs!($verb: $($name),+);
    };
    ($verb:ident: $($name:ident),+) => {
        impl $crate::verb::Run for $verb {
            fn run(
                self,
                context: &mut $crate::context::Context<'_, '_>,
            ) -> Result<(), $crate::command_error::CommandError> {
                match self {
                    $(Self::$name(command) => command.run(context),)+
                }
            }
        }
    };
}
pub(crate) use runs;
