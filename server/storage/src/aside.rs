//! Trying something out inside a transaction.

use crate::error::StorageError;
use crate::tx::Tx;
use diesel::connection::SimpleConnection;

/// Whatever is done under it is taken back; one in another is another one, though they share the name.
const BEGIN: &str = "SAVEPOINT aside";
const END: &str = "ROLLBACK TO SAVEPOINT aside; RELEASE SAVEPOINT aside";

impl Tx<'_> {
    /// Runs a job and takes back all that it wrote, whatever comes out of it: for what an act would lead to.
    ///
    /// # Errors
    /// [`StorageError`], when the database fails.
    pub fn aside<T>(&mut self, job: impl FnOnce(&mut Tx<'_>) -> T) -> Result<T, StorageError> {
        self.run_plain(BEGIN)?;
        let came_out = job(self);
        self.run_plain(END)?;
        Ok(came_out)
    }

    fn run_plain(&mut self, statements: &str) -> Result<(), StorageError> {
        match self {
            Self::Sqlite(conn) => conn.batch_execute(statements)?,
            #[cfg(feature = "postgresql")]
            Self::Postgresql(conn) => conn.batch_execute(statements)?,
        }
        Ok(())
    }
}
