//! The one place that asks the book: in process, or over HTTP.

#[cfg(feature = "embedded")]
mod local;
mod remote;

pub use crate::fault::Fault;
use crate::{
    config::{Config, Target},
    environment::Environment,
};
use ellwand_contract::{Act, Outcome, Sending};

/// An act that the client can ask for: any of the contract; in process, one that the service performs.
#[cfg(feature = "embedded")]
pub trait Askable: Act + ellwand_service::Perform {}
#[cfg(feature = "embedded")]
impl<A: Act + ellwand_service::Perform> Askable for A {}

/// An act that the client can ask for: any of the contract.
#[cfg(not(feature = "embedded"))]
pub trait Askable: Act {}
#[cfg(not(feature = "embedded"))]
impl<A: Act> Askable for A {}

/// Asks the book.
#[derive(Debug)]
pub enum Client {
    /// A book on this machine, in process.
    #[cfg(feature = "embedded")]
    Local(local::Local),
    /// A server.
    Remote(remote::Remote),
}

impl Client {
    /// A client for the configured book; nothing is opened yet.
    ///
    /// # Errors
    /// [`Fault::Usage`]: a URL that is none, a fixed clock that is none, a file for the thin client.
    pub fn new(config: &Config, environment: &Environment) -> Result<Self, Fault> {
        match &config.target {
            Target::Server(url) => remote::Remote::new(url, config).map(Self::Remote),
            Target::Unsaid(server) => Err(Fault::Usage {
                message: format!("no book is named, and the last one used was at {server}"),
                hint: format!(
                    "sign in with ellwand login {server}; or use the book on this machine from now on: \
                     ellwand logout --own-book"
                ),
            }),
            #[cfg(feature = "embedded")]
            target => local::Local::new(target, &config.name, environment).map(Self::Local),
            #[cfg(not(feature = "embedded"))]
            _ => {
                let _ = environment;
                Err(Fault::Usage {
                    message: "this program was built without a local book".to_owned(),
                    hint: "name a server with --server URL".to_owned(),
                })
            }
        }
    }

    /// Opens the book as far as an act of this name needs it.
    ///
    /// # Errors
    /// The book is absent, damaged, newer than the program or locked.
    pub fn open(&mut self, act: &str) -> Result<(), Fault> {
        match self {
            #[cfg(feature = "embedded")]
            Self::Local(local) => local.open(act),
            Self::Remote(_) => {
                let _ = act;
                Ok(())
            }
        }
    }

    /// Asks.
    pub fn call<A: Askable>(&mut self, act: &A) -> Result<Outcome<A::Answer>, Fault> {
        self.send(act, Sending::default())
    }

    /// Asks with a request and how it is sent.
    pub fn send<A: Askable>(
        &mut self,
        act: &A,
        sending: Sending,
    ) -> Result<Outcome<A::Answer>, Fault> {
        match self {
            #[cfg(feature = "embedded")]
            Self::Local(local) => local.send(act, sending),
            Self::Remote(remote) => remote.send(act, sending),
        }
    }
}
