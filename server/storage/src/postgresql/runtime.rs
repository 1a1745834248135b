//! The runtime that a connection brings along: with a clock, which an address with `connect_timeout` asks for.

use diesel_async::async_connection_wrapper::BlockOn;
use tokio::runtime::{Builder, Runtime};

/// A runtime of one connection, on the thread that asks it.
pub struct Own(Runtime);

impl BlockOn for Own {
    fn block_on<F: Future>(&self, future: F) -> F::Output {
        self.0.block_on(future)
    }

    fn get_runtime() -> Self {
        let built = Builder::new_current_thread().enable_all().build();
        Self(
            built.expect(
                "a runtime needs no more than the descriptors that its connection needs too",
            ),
        )
    }
}
