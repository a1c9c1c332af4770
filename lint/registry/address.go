package registry

import (
	"fmt"
	"net"
	"regexp"
	"strings"

	"cuelabs.dev/go/oci/ociregistry/ociref"
)

// Address is where a standard lies in a registry: host, path, and a tag or a digest, as in the OCI Distribution
// Specification v1.1 ("Pulling manifests" for path and tag).
type Address struct{ ref ociref.Reference }

const addressForm = "write host/path/name:version, such as registry.example/valley/flood:1.2.0, or host/path/name@sha256:… for one that never changes"

// longestAddress is far above any real one: a path has at most 255 characters, a tag 128. Our own figure.
const longestAddress = 1000

var (
	capitals = regexp.MustCompile(`/[^:@]*[A-Z]`)
	// versionTag is a tag that promises one version; any other may move from version to version.
	versionTag = regexp.MustCompile(`^[0-9]+\.[0-9]+\.[0-9]+$`)
	digestForm = regexp.MustCompile(`^sha256:[0-9a-f]{64}$`)
)

// ParseAddress reads an address. Neither tag nor digest need be there: Push takes the version for the tag then.
func ParseAddress(s string) (Address, error) {
	wrong := func(why string) (Address, error) { return Address{}, fmt.Errorf("address %q: %s", s, why) }
	if len(s) > longestAddress {
		return Address{}, fmt.Errorf("an address has at most %d bytes; %s", longestAddress, addressForm)
	}
	if scheme, _, ok := strings.Cut(s, "://"); ok {
		return wrong(fmt.Sprintf("leave %s:// out; %s", scheme, addressForm))
	}
	ref, err := ociref.ParseRelative(s)
	switch {
	case err != nil && capitals.MatchString(s):
		return wrong("path and name have small letters only")
	case err != nil && strings.Contains(s, "@"):
		return wrong("after @ stands sha256: and 64 digits from 0 to f")
	case err != nil:
		return wrong("this is no address in a registry; " + addressForm)
	case ref.Host == "":
		return wrong("it begins with the host, which has a dot or a port, such as registry.example or localhost:5000; " + addressForm)
	case ref.Digest != "" && !digestForm.MatchString(string(ref.Digest)):
		return wrong("only sha256 digests are known here")
	}
	return Address{ref}, nil
}

func (a Address) String() string { return a.ref.String() }

// at is the address of one manifest, which never changes.
func (a Address) at(manifest string) string {
	return a.ref.Host + "/" + a.ref.Repository + "@" + manifest
}

// loopback reports whether the host is this machine.
func (a Address) loopback() bool {
	host := a.ref.Host
	if h, _, err := net.SplitHostPort(host); err == nil {
		host = h
	}
	ip := net.ParseIP(strings.Trim(host, "[]"))
	return host == "localhost" || ip != nil && ip.IsLoopback()
}
