//! Certificates for encrypted connections, made anew for each test.

use rcgen::{BasicConstraints, CertificateParams, CertifiedIssuer, IsCa, KeyPair};

/// An authority, and a certificate and key that it gave; all in PEM.
pub struct Certificate {
    pub authority: String,
    pub own: String,
    pub key: String,
}

impl Certificate {
    /// A certificate for a machine of these names, from an authority of its own.
    pub fn of(names: &[&str]) -> Self {
        let mut params = CertificateParams::new(Vec::new()).unwrap();
        params.is_ca = IsCa::Ca(BasicConstraints::Unconstrained);
        let authority = CertifiedIssuer::self_signed(params, KeyPair::generate().unwrap()).unwrap();
        let key = KeyPair::generate().unwrap();
        let names: Vec<String> = names.iter().map(|name| (*name).to_owned()).collect();
        let own = CertificateParams::new(names)
            .unwrap()
            .signed_by(&key, &authority)
            .unwrap();
        Self {
            authority: authority.pem(),
            own: own.pem(),
            key: key.serialize_pem(),
        }
    }
}
