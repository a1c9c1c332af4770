package registry

import (
	"cmp"
	"context"
	"crypto/sha256"
	"crypto/tls"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net"
	"net/http"
	"slices"
	"strings"
	"sync/atomic"
	"time"
	"unicode"

	"cuelabs.dev/go/oci/ociregistry"
	"cuelabs.dev/go/oci/ociregistry/ociauth"
	"cuelabs.dev/go/oci/ociregistry/ociclient"
	"golang.org/x/mod/semver"

	"kitmuster/lint/source"
	"kitmuster/lint/words"
)

// Bounds on what a registry may send: it is a stranger's machine. Our own figures; a manifest of ours has a thousand bytes,
// and a standard 16 MiB at most before it is packed.
const (
	maxManifest = 1 << 20
	maxLayer    = 24 << 20
	maxHeader   = 64 << 10
	// maxRequests is what one push or pull may take, logging in and redirects included.
	maxRequests = 60
	// usualWait bounds a push or pull whose caller set no deadline; dialWait finds out whether anyone is there.
	usualWait = 2 * time.Minute
	dialWait  = 10 * time.Second
	hintWait  = 5 * time.Second
)

// Media types of the OCI Image Specification v1.1; the last one is ours.
const (
	manifestType = "application/vnd.oci.image.manifest.v1+json"
	indexType    = "application/vnd.oci.image.index.v1+json"
	layerType    = "application/vnd.oci.image.layer.v1.tar+gzip"
	emptyType    = "application/vnd.oci.empty.v1+json"
	artifactType = "application/vnd.kitmuster.standard.v1+json"
)

var (
	errNotFound    = errors.New("not found")
	errUnreachable = errors.New("not reached")
)

// said is an error with words of its own for a person and a kind for the program.
type said struct {
	text string
	kind error
}

func (s said) Error() string { return s.text }
func (s said) Unwrap() error { return s.kind }

// client speaks with one registry about one address.
type client struct {
	Address
	oci ociregistry.Interface
	// refusal is what the guard refused first, "" is nothing. Libraries in between do not always hand an error on.
	refusal func() string
	// close lets go of connections.
	close func()
}

func (s *Store) client(ctx context.Context, a Address) (*client, error) {
	base := s.transport
	if base == nil {
		base = &http.Transport{
			Proxy:       s.Proxy,
			DialContext: (&net.Dialer{Timeout: dialWait}).DialContext,
		}
	}
	base = base.Clone()
	base.DisableCompression = true
	base.MaxResponseHeaderBytes = maxHeader
	base.TLSHandshakeTimeout = dialWait
	base.ExpectContinueTimeout = time.Second
	g := &guard{next: base}
	plain := s.Insecure || a.loopback()
	if plain {
		g.plain = a.ref.Host
	}
	config, err := s.credentials(ctx, a.ref.Host)
	if err != nil {
		return nil, err
	}
	oci, err := ociclient.New(a.ref.Host, &ociclient.Options{
		Insecure:  plain,
		Transport: ociauth.NewStdTransport(ociauth.StdTransportParams{Config: config, Transport: g}),
	})
	if err != nil {
		return nil, fmt.Errorf("address %q: %w", a, err)
	}
	return &client{a, oci, g.refusal, base.CloseIdleConnections}, nil
}

// guard holds every request, no matter who makes it, to what a stranger's machine may lead us to.
type guard struct {
	next http.RoundTripper
	// plain is the one host that may be spoken to without TLS; "" is none.
	plain    string
	requests atomic.Int32
	refused  atomic.Pointer[string]
}

// refuse notes the first refusal.
func (g *guard) refuse(format string, args ...any) error {
	why := fmt.Sprintf(format, args...)
	g.refused.CompareAndSwap(nil, &why)
	return errors.New(why)
}

func (g *guard) refusal() string {
	if p := g.refused.Load(); p != nil {
		return *p
	}
	return ""
}

func (g *guard) RoundTrip(r *http.Request) (*http.Response, error) {
	var err error
	switch {
	case g.requests.Add(1) > maxRequests:
		err = g.refuse("it wants more than %d requests for one standard", maxRequests)
	case r.URL.Scheme == "https", r.URL.Scheme == "http" && r.URL.Host == g.plain:
	default:
		err = g.refuse("it leads to %s://%s; only https is followed", clean(r.URL.Scheme), clean(r.URL.Host))
	}
	if err != nil {
		if r.Body != nil {
			_ = r.Body.Close()
		}
		return nil, err
	}
	resp, err := g.next.RoundTrip(r)
	if err == nil {
		resp.Body = &bounded{resp.Body, maxLayer, g}
	}
	return resp, err
}

// bounded ends an answer that does not end.
type bounded struct {
	io.ReadCloser
	left int64
	g    *guard
}

func (b *bounded) Read(p []byte) (int, error) {
	if b.left < 0 {
		return 0, b.g.refuse("its answer is longer than %d MiB", maxLayer>>20)
	}
	n, err := b.ReadCloser.Read(p[:min(int64(len(p)), b.left+1)])
	b.left -= int64(n)
	return n, err
}

// ownHost hands out credentials for one host only, so that a registry cannot have us act elsewhere as ourselves.
type ownHost struct {
	ociauth.Config
	host string
}

func (o ownHost) EntryForRegistry(host string) (ociauth.ConfigEntry, error) {
	if host != o.host {
		return ociauth.ConfigEntry{}, nil
	}
	return o.Config.EntryForRegistry(host)
}

func (s *Store) credentials(ctx context.Context, host string) (ociauth.Config, error) {
	if s.Env == nil {
		return nil, nil
	}
	run := ociauth.ExecHelperWithEnv(s.Env)
	config, err := ociauth.LoadWithEnv(func(helper, url string) (ociauth.ConfigEntry, error) {
		type answer struct {
			entry ociauth.ConfigEntry
			err   error
		}
		done := make(chan answer, 1)
		go func() {
			e, err := run(helper, url)
			done <- answer{e, err}
		}()
		select {
		case <-ctx.Done():
			return ociauth.ConfigEntry{}, ctx.Err()
		case a := <-done:
			if a.err != nil && !errors.Is(a.err, ociauth.ErrHelperNotFound) {
				// What it printed may be secret.
				a.err = fmt.Errorf("docker-credential-%s gave no credentials for %s", helper, url)
			}
			return a.entry, a.err
		}
	}, s.Env)
	if err != nil {
		return nil, fmt.Errorf("the credentials for registries cannot be read: %w", err)
	}
	return ownHost{config, host}, nil
}

// explain says what became of a request, in words that a person can act on.
func (c *client) explain(ctx context.Context, err error) error {
	host := c.ref.Host
	var status ociregistry.HTTPError
	var cert *tls.CertificateVerificationError
	var op *net.OpError
	var dns *net.DNSError
	var slow net.Error
	switch {
	case err == nil, errors.Is(err, errNotFound), errors.Is(err, errUnreachable):
		return err
	case errors.Is(ctx.Err(), context.DeadlineExceeded):
		return said{fmt.Sprintf("%s did not answer to the end within the time allowed; try again, or allow more time", host), errUnreachable}
	case ctx.Err() != nil:
		return ctx.Err()
	case c.refusal() != "":
		return fmt.Errorf("the answer of %s was refused: %s", host, c.refusal())
	case errors.As(err, &status):
		return c.status(status)
	case errors.Is(err, http.ErrSchemeMismatch):
		return fmt.Errorf("%s speaks http, not https; if that is how it must be, allow it with --insecure", host)
	case errors.As(err, &cert):
		return fmt.Errorf("%s has no certificate that this machine trusts: %s", host, clean(cert.Err.Error()))
	case errors.As(err, &dns), errors.As(err, &op), errors.As(err, &slow) && slow.Timeout():
		return said{fmt.Sprintf("%s cannot be reached: %s", host, clean(innermost(err).Error())), errUnreachable}
	}
	return fmt.Errorf("%s does not answer as a registry of the OCI Distribution Specification: %s", host, clean(innermost(err).Error()))
}

func innermost(err error) error {
	for {
		next := errors.Unwrap(err)
		if next == nil {
			return err
		}
		err = next
	}
}

// status explains an answer that is a refusal.
func (c *client) status(e ociregistry.HTTPError) error {
	host := c.ref.Host
	switch code := e.StatusCode(); code {
	case http.StatusNotFound:
		return said{fmt.Sprintf("there is no %s", c), errNotFound}
	case http.StatusUnauthorized, http.StatusForbidden:
		return fmt.Errorf("%s does not let you do this with %s; credentials for it are read from config.json in the folder that DOCKER_CONFIG names, or in .docker in your home folder", host, c.ref.Repository)
	case http.StatusTooManyRequests:
		return fmt.Errorf("%s has had too many requests; wait a while", host)
	case http.StatusBadGateway, http.StatusServiceUnavailable, http.StatusGatewayTimeout:
		return said{fmt.Sprintf("%s cannot be reached: it answers %d", host, code), errUnreachable}
	default:
		var wire *ociregistry.WireErrors
		text := http.StatusText(code)
		if errors.As(e, &wire) {
			text = clean(wire.Error())
		}
		return fmt.Errorf("%s answers %d, %s", host, code, text)
	}
}

// clean makes a stranger's words fit to be shown: one short line without control characters.
func clean(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) {
			return r
		}
		return ' '
	}, s)
	s = words.Line(s)
	if r := []rune(s); len(r) > 200 {
		s = string(r[:200]) + "…"
	}
	return s
}

// sum is the digest of b.
func sum(b []byte) string {
	h := sha256.Sum256(b)
	return "sha256:" + hex.EncodeToString(h[:])
}

// manifest fetches the manifest at the address.
func (c *client) manifest(ctx context.Context) ([]byte, error) {
	var r ociregistry.BlobReader
	var err error
	if c.ref.Digest != "" {
		r, err = c.oci.GetManifest(ctx, c.ref.Repository, c.ref.Digest)
	} else {
		r, err = c.oci.GetTag(ctx, c.ref.Repository, c.ref.Tag)
	}
	if err != nil {
		return nil, c.explain(ctx, err)
	}
	defer r.Close()
	d := r.Descriptor()
	kind, _, _ := mime.ParseMediaType(d.MediaType)
	switch {
	case kind == "text/html":
		return nil, fmt.Errorf("%s answers with a web page: it is no registry, or wants you to log in first", c.ref.Host)
	case kind == indexType || strings.HasSuffix(kind, "manifest.list.v2+json"):
		return nil, fmt.Errorf("%s is a list of images, no standard", c)
	case kind != manifestType:
		return nil, fmt.Errorf("%s is no manifest of a standard: the registry calls it %q", c, clean(d.MediaType))
	case d.Size > maxManifest:
		return nil, fmt.Errorf("the manifest of %s has %d bytes; a standard's has at most %d", c, d.Size, maxManifest)
	}
	b, err := io.ReadAll(io.LimitReader(r, maxManifest+1))
	switch {
	case err != nil && ctx.Err() != nil:
		return nil, c.explain(ctx, err)
	case err != nil:
		return nil, c.broken("manifest", err)
	case len(b) > maxManifest:
		return nil, fmt.Errorf("the manifest of %s is longer than %d bytes", c, maxManifest)
	case c.ref.Digest != "" && sum(b) != string(c.ref.Digest):
		return nil, fmt.Errorf("%s sent another manifest than %s: its digest is %s", c.ref.Host, c.ref.Digest, sum(b))
	}
	return b, nil
}

func (c *client) broken(what string, err error) error {
	return fmt.Errorf("the %s of %s came broken: %s; try again, and if it stays so, tell the people who run %s", what, c, clean(err.Error()), c.ref.Host)
}

// missing adds to an error about a tag that is not there which versions are.
func (c *client) missing(ctx context.Context, err error) error {
	if !errors.Is(err, errNotFound) || c.ref.Tag == "" {
		return err
	}
	ctx, stop := context.WithTimeout(ctx, hintWait)
	defer stop()
	var versions []string
	n := 0
	for tag, err := range c.oci.Tags(ctx, c.ref.Repository, "") {
		if n++; err != nil || n > 1000 {
			break
		}
		if versionTag.MatchString(tag) && len(tag) < 30 && !slices.Contains(versions, tag) {
			versions = append(versions, tag)
		}
	}
	slices.SortFunc(versions, func(a, b string) int {
		return cmp.Or(semver.Compare("v"+a, "v"+b), strings.Compare(a, b)) // a stranger's 01.0.0 is no version, and comes first
	})
	if len(versions) == 0 {
		return said{err.Error() + "; look at host, path and version again", errNotFound}
	}
	return said{fmt.Sprintf("%s; it has %s", err, strings.Join(versions[max(0, len(versions)-5):], ", ")), errNotFound}
}

// layerOf reads which layer a manifest leads to.
func layerOf(manifest []byte) (ociregistry.Descriptor, error) {
	var m ociregistry.Manifest
	none := func(format string, args ...any) (ociregistry.Descriptor, error) {
		return ociregistry.Descriptor{}, fmt.Errorf("this is no manifest of a standard: "+format, args...)
	}
	if err := json.Unmarshal(manifest, &m); err != nil {
		return none("%s", clean(err.Error()))
	}
	if j := source.ParseJSON("", manifest); j.Doubled {
		return none("line %d, column %d: %s", j.FaultAt.Line, j.FaultAt.Col, clean(j.Fault))
	}
	switch {
	case m.SchemaVersion != 2 || m.MediaType != "" && m.MediaType != manifestType:
		return none("it is of another kind, %q", clean(m.MediaType))
	case m.ArtifactType != "" && m.ArtifactType != artifactType:
		return none("it is of type %q, and a standard's is %s", clean(m.ArtifactType), artifactType)
	case len(m.Layers) != 1 || m.Layers[0].MediaType != layerType:
		return none("a standard has one layer, of type %s", layerType)
	}
	d := m.Layers[0]
	switch {
	case !digestForm.MatchString(string(d.Digest)):
		return none("its layer has no sha256 digest")
	case d.Size <= 0 || d.Size > maxLayer:
		return none("its layer has %d bytes, and a standard at most %d MiB", d.Size, maxLayer>>20)
	}
	return d, nil
}

// layer fetches the packed standard that a manifest leads to.
func (c *client) layer(ctx context.Context, d ociregistry.Descriptor) ([]byte, error) {
	r, err := c.oci.GetBlob(ctx, c.ref.Repository, d.Digest)
	if err != nil {
		return nil, c.explain(ctx, err)
	}
	defer r.Close()
	if n := r.Descriptor().Size; n != d.Size {
		return nil, fmt.Errorf("the layer of %s has %d bytes, and its manifest says %d", c, n, d.Size)
	}
	b, err := io.ReadAll(io.LimitReader(r, d.Size+1))
	switch {
	case err != nil && ctx.Err() != nil:
		return nil, c.explain(ctx, err)
	case err != nil:
		return nil, c.broken("layer", err)
	case sum(b) != string(d.Digest):
		return nil, fmt.Errorf("the layer of %s is not what its manifest says: its digest is %s, not %s", c, sum(b), d.Digest)
	}
	return b, nil
}
