package serve

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"time"

	"github.com/google/renameio/v2"
)

const (
	// certificateTime is how long a certificate of ours is good for: browsers take no longer ones.
	certificateTime = 397 * 24 * time.Hour
	// renewal is how long before its end, or before an address that it lacks is used, another is made.
	renewal = 7 * 24 * time.Hour
)

// OwnCertificate returns the certificate kept in a folder, or makes one for these addresses where there is none, or
// none that is good for them. The key is readable for its owner only.
func OwnCertificate(dir string, addresses []net.IP) (*tls.Certificate, error) {
	path := filepath.Join(dir, "page.pem")
	switch kept, err := tls.LoadX509KeyPair(path, path); {
	case err == nil && fits(kept.Leaf, addresses):
		return &kept, nil
	case errors.Is(err, fs.ErrPermission):
		return nil, err
	}
	text, err := newCertificate(addresses)
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, err
	}
	if err := renameio.WriteFile(path, text, 0o600); err != nil {
		return nil, err
	}
	made, err := tls.X509KeyPair(text, text)
	return &made, err
}

func fits(leaf *x509.Certificate, addresses []net.IP) bool {
	if leaf == nil || time.Now().After(leaf.NotAfter.Add(-renewal)) {
		return false
	}
	for _, ip := range addresses {
		if leaf.VerifyHostname(ip.String()) != nil {
			return false
		}
	}
	return true
}

// newCertificate makes a certificate signed by itself, with its key, in PEM.
func newCertificate(addresses []net.IP) ([]byte, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	serial, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 120))
	if err != nil {
		return nil, err
	}
	names := []string{"localhost"}
	if own, err := os.Hostname(); err == nil && own != "" {
		names = append(names, own, own+".local")
	}
	form := &x509.Certificate{
		SerialNumber: serial, Subject: pkix.Name{CommonName: "valvegrade on " + names[len(names)-1]},
		NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(certificateTime),
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		DNSNames: names, IPAddresses: append([]net.IP{net.IPv4(127, 0, 0, 1), net.IPv6loopback}, addresses...),
		BasicConstraintsValid: true,
	}
	leaf, err := x509.CreateCertificate(rand.Reader, form, form, &key.PublicKey, key)
	if err != nil {
		return nil, err
	}
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		return nil, err
	}
	text := pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: leaf})
	return append(text, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret})...), nil
}

// Fingerprint is the SHA-256 of a certificate as browsers show it, for those who want to compare.
func Fingerprint(c *tls.Certificate) string {
	sum := sha256.Sum256(c.Certificate[0])
	text := ""
	for n, b := range sum {
		if n > 0 {
			text += ":"
		}
		text += fmt.Sprintf("%02X", b)
	}
	return text
}
