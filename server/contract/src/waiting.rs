//! One line on a terminal while something takes longer than a second, for both programs.

use std::{
    io::{self, Write},
    sync::mpsc::{self, Receiver, RecvTimeoutError, Sender},
    thread::{self, JoinHandle},
    time::Duration,
};

/// How long nothing is said.
const SHORT: Duration = Duration::from_secs(1);

/// Says what is waited for, until it is dropped: then the line is cleared.
#[derive(Debug, Default)]
pub struct Waiting {
    under_way: Option<(Sender<()>, JoinHandle<()>)>,
}

impl Waiting {
    /// Begins; what is shown is asked for only when it has taken long. Where nobody reads messages, nothing is shown.
    #[must_use]
    pub fn new(says: String, is_read: bool) -> Self {
        let begin = || {
            let (sender, receiver) = mpsc::channel();
            let watch = move || watch(&receiver, SHORT, &says, &mut io::stderr());
            (sender, thread::spawn(watch))
        };
        Self {
            under_way: is_read.then(begin),
        }
    }
}

impl Drop for Waiting {
    fn drop(&mut self) {
        if let Some((sender, thread)) = self.under_way.take() {
            drop(sender);
            let _ = thread.join();
        }
    }
}

/// Shows the line once the time is up, and takes it away when the other end is gone. A terminal that cannot be written to shows
/// nothing.
fn watch(receiver: &Receiver<()>, short: Duration, says: &str, terminal: &mut impl Write) {
    if receiver.recv_timeout(short) != Err(RecvTimeoutError::Timeout) {
        return;
    }
    let _ = write!(terminal, "{says} …").and_then(|()| terminal.flush());
    let _ = receiver.recv();
    // ECMA-48, section 8.3.41: EL with 2 erases the line.
    let _ = write!(terminal, "\r\x1b[2K").and_then(|()| terminal.flush());
}

#[cfg(test)]
mod tests {
    use super::*;

    fn watched(takes: Duration) -> String {
        let (sender, receiver) = mpsc::channel();
        let mut terminal = Vec::new();
        let done = thread::spawn(move || {
            thread::sleep(takes);
            drop(sender);
        });
        watch(
            &receiver,
            Duration::from_millis(100),
            "Waiting for http://here",
            &mut terminal,
        );
        done.join().expect("a sleep");
        String::from_utf8(terminal).expect("text")
    }

    #[test]
    fn what_is_quick_says_nothing_and_what_is_slow_leaves_nothing() {
        assert_eq!(watched(Duration::ZERO), "");
        let slow = watched(Duration::from_millis(600));
        assert_eq!(slow, "Waiting for http://here …\r\u{1b}[2K");
    }
}
