//! Sends a kept request again, exactly as it was.

use super::Request;
use crate::client::{Askable, Client, Fault};
use ellwand_contract::{Act, Sending, json};

/// Sends it; true when it had been booked before.
pub fn resend(client: &mut Client, request: &Request) -> Result<bool, Fault> {
    macro_rules! written {
        ($($(read($read:ty))? $(write($write:ty))?),*) => {
            match request.act.as_str() {
                $($(name if name == <$write>::NAME => send::<$write>(client, request),)?)*
                other => Err(unreadable(&format!("\"{other}\" is not an act of this program"))),
            }
        };
    }
    ellwand_contract::each_act!(written)
}

fn send<A: Askable>(client: &mut Client, request: &Request) -> Result<bool, Fault> {
    let act: A =
        json::read(&request.body.to_string()).map_err(|error| unreadable(&error.to_string()))?;
    let sending = Sending {
        repeat: true,
        ..Sending::default()
    };
    Ok(client.send(&act, sending)?.repeated)
}

fn unreadable(why: &str) -> Fault {
    Fault::Usage {
        message: format!("the saved request cannot be read: {why}"),
        hint: "check with `ellwand history` whether it was booked; if not, do it again".to_owned(),
    }
}
