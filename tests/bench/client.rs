//! A client that costs next to nothing: what is measured is the server, and the clients share its machine.

use std::{
    io::{Read, Write},
    net::{SocketAddr, TcpStream},
};

/// One connection, kept alive.
pub struct Client {
    stream: TcpStream,
    host: String,
    buffer: Vec<u8>,
}

impl Client {
    pub fn new(address: SocketAddr) -> Self {
        let stream = TcpStream::connect(address).expect("a server");
        stream.set_nodelay(true).expect("a socket");
        Self {
            stream,
            host: address.to_string(),
            buffer: Vec::with_capacity(16 * 1024),
        }
    }

    pub fn get(&mut self, path: &str) {
        let request = format!("GET {path} HTTP/1.1\r\nhost: {}\r\n\r\n", self.host);
        self.ask(&request);
    }

    pub fn post(&mut self, path: &str, body: &str) {
        let (host, length) = (&self.host, body.len());
        let request = format!(
            "POST {path} HTTP/1.1\r\nhost: {host}\r\ncontent-type: application/json\r\ncontent-length: {length}\r\n\r\n{body}"
        );
        self.ask(&request);
    }

    /// Sends a request and reads its answer to the end; anything but a success ends the run.
    fn ask(&mut self, request: &str) {
        self.stream
            .write_all(request.as_bytes())
            .expect("a server that reads");
        self.buffer.clear();
        let mut wanted = usize::MAX;
        let mut part = [0; 16 * 1024];
        while self.buffer.len() < wanted {
            let read = self.stream.read(&mut part).expect("an answer");
            assert!(read > 0, "the server went");
            self.buffer
                .extend_from_slice(part.get(..read).unwrap_or_default());
            if wanted == usize::MAX
                && let Some(end) = self
                    .buffer
                    .windows(4)
                    .position(|window| window == b"\r\n\r\n")
            {
                let head = String::from_utf8_lossy(self.buffer.get(..end).unwrap_or_default())
                    .to_lowercase();
                assert!(
                    head.starts_with("http/1.1 2"),
                    "{}",
                    String::from_utf8_lossy(&self.buffer)
                );
                let length = head
                    .lines()
                    .find_map(|line| line.strip_prefix("content-length: "));
                let length: usize = length
                    .and_then(|length| length.parse().ok())
                    .expect("a length");
                wanted = end + 4 + length;
            }
        }
    }
}
