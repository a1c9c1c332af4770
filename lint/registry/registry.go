// Package registry brings standards to registries of the OCI Distribution Specification v1.1 and back, and keeps what was
// fetched, so that it can be used without a network.
//
// A registry is a stranger. It is spoken to through one guard (client.go): https only, plain http to this machine or, where the
// caller allows it, to the host of the address; a bounded number of requests, answers of a bounded length, credentials for the host of
// the address only. Digests are worked out here; a header proves nothing.
//
// What was fetched lies in the user's cache as manifest and layer under the manifest's digest. It is checked as a stranger's again when
// it is read, and fetched anew when it is broken. The artifact type is application/vnd.kitmuster.standard.v1+json; config and layer
// are those that the stock engine's own OCI client takes. .ci/run starts a registry of Debian's, names it in KITMUSTER_REGISTRY, and
// has the stock engine fetch from it.
package registry

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"net/url"

	"cuelabs.dev/go/oci/ociregistry"
	"cuelabs.dev/go/oci/ociregistry/ociauth"

	"kitmuster/lint/judge"
	"kitmuster/lint/standard"
)

// Store is a folder of standards that were fetched. Several processes may use one.
type Store struct {
	dir string
	// Env is the environment, as os.Environ gives it, that leads to credentials: DOCKER_CONFIG and what else
	// the standard configuration file of registries goes by. nil is no credentials.
	Env []string
	// Proxy names the proxy of a request, as http.ProxyFromEnvironment does; nil is none.
	Proxy func(*http.Request) (*url.URL, error)
	// Insecure allows plain http for the host of the address. A host that is this machine is always spoken to in http.
	Insecure bool
	// Told takes what a person should know though nothing failed; nil takes nothing.
	Told func(string)

	// transport stands in for the network in tests.
	transport *http.Transport
}

// Open names the folder of a store. It is made when there is something to keep.
func Open(dir string) *Store { return &Store{dir: dir} }

func (s *Store) told(format string, args ...any) {
	if s.Told != nil {
		s.Told(fmt.Sprintf(format, args...))
	}
}

// Standard is a standard that was fetched or pushed.
type Standard struct {
	FS fs.FS
	// Packed is the same as one .tar.gz.
	Packed []byte
	Name   string
	// Version is the standard's own.
	Version string
	// Address is where it lies, by the digest of its manifest.
	Address string
	// Manifest is the digest of the registry's manifest; Digest that of the content, see standard.Digest.
	Manifest, Digest string
	// Stored says that its bytes were there before: in the store, or, of a push, in the registry.
	Stored bool
}

// Fetch gives the files of the standard at an address. With a digest, the standard's content must have it, see
// standard.Digest; "" takes what is there.
//
// An address by digest is answered from the store where it is there. A tag is asked for at the registry each time, and
// answered from the store where the registry cannot be reached and a digest is given. The registry's whole answer is awaited
// as long as ctx allows, two minutes where ctx has no deadline.
func (s *Store) Fetch(ctx context.Context, address, digest string) (fs.FS, error) {
	st, err := s.Pull(ctx, address, digest)
	if err != nil {
		return nil, err
	}
	return st.FS, nil
}

// Pull is Fetch with all that is known of the standard.
func (s *Store) Pull(ctx context.Context, address, digest string) (*Standard, error) {
	ctx, stop := bound(ctx)
	defer stop()
	a, err := ParseAddress(address)
	if err != nil {
		return nil, err
	}
	if a.ref.Tag == "" && a.ref.Digest == "" {
		return nil, fmt.Errorf("address %q: it says not which version; %s", address, addressForm)
	}
	if digest != "" && !digestForm.MatchString(digest) {
		return nil, fmt.Errorf("digest %q: write sha256: and 64 digits from 0 to f, as pull prints it", digest)
	}
	if a.ref.Digest != "" {
		if st, ok := s.stored(a, string(a.ref.Digest)); ok {
			return s.accept(a, st, nil, digest)
		}
	}
	c, err := s.client(ctx, a)
	if err != nil {
		return nil, err
	}
	defer c.close()
	manifest, err := c.manifest(ctx)
	if errors.Is(err, errUnreachable) {
		return s.offline(a, digest, err)
	}
	if err != nil {
		return nil, c.missing(ctx, err)
	}
	if st, ok := s.stored(a, sum(manifest)); ok {
		return s.accept(a, st, manifest, digest)
	}
	st, err := c.standard(ctx, manifest)
	if err != nil {
		return nil, err
	}
	return s.accept(a, st, manifest, digest)
}

func bound(ctx context.Context) (context.Context, context.CancelFunc) {
	if _, ok := ctx.Deadline(); ok {
		return context.WithCancel(ctx)
	}
	return context.WithTimeout(ctx, usualWait)
}

// offline answers while the registry cannot be reached: only with the very content that the caller asks for.
func (s *Store) offline(a Address, digest string, why error) (*Standard, error) {
	if digest == "" {
		if n, ok := s.note(a.String()); ok && digestForm.MatchString(n.Content) {
			return nil, fmt.Errorf("%w; it was fetched before: ask for it with the digest %s, and it is used without the registry", why, n.Content)
		}
		return nil, why
	}
	if n, ok := s.note(digest); ok {
		if st, ok := s.stored(a, n.Manifest); ok && st.Digest == digest {
			if err := fits(a, st); err != nil {
				return nil, err
			}
			s.told("%s; %s %s with the digest asked for was fetched before and is used", why, st.Name, st.Version)
			return st, nil
		}
	}
	return nil, fmt.Errorf("%w; no standard with the digest %s was fetched before", why, digest)
}

// accept holds a standard to what was asked for and to what the address led to before, and keeps it.
func (s *Store) accept(a Address, st *Standard, manifest []byte, digest string) (*Standard, error) {
	if digest != "" && st.Digest != digest {
		return nil, fmt.Errorf("%s is %s %s with the digest %s, and you named %s; if the change is wanted, name the new digest", a, st.Name, st.Version, st.Digest, digest)
	}
	if err := fits(a, st); err != nil {
		return nil, err
	}
	if before, ok := s.note(a.String()); ok && digest == "" {
		switch {
		case versionTag.MatchString(a.ref.Tag) && before.Content != st.Digest:
			return nil, fmt.Errorf("%s was %s when it was fetched last and is %s now; a version keeps its content. Ask the people who keep the standard, and if the new one is right, ask for it by its digest", a, before.Content, st.Digest)
		case judge.Older(st.Version, before.Newest):
			s.told("%s leads to version %s, and led to %s before; if that is not wanted, ask for the version you want, or for a digest", a, st.Version, before.Newest)
		}
	}
	if err := s.keep(a, st, manifest); err != nil {
		s.told("%s %s could not be kept, so it is fetched again next time: %s", st.Name, st.Version, innermost(err))
	}
	return st, nil
}

// fits holds a standard to the version that its tag promises.
func fits(a Address, st *Standard) error {
	if versionTag.MatchString(a.ref.Tag) && a.ref.Tag != st.Version {
		return fmt.Errorf("%s holds version %s of %s: the tag promises another; tell the people who keep the standard, and do not use it", a, st.Version, st.Name)
	}
	return nil
}

func newer(a, b string) string {
	if !versionTag.MatchString(a) || judge.Older(a, b) {
		return b
	}
	return a
}

// standard fetches what a manifest leads to.
func (c *client) standard(ctx context.Context, manifest []byte) (*Standard, error) {
	d, err := layerOf(manifest)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c, err)
	}
	b, err := c.layer(ctx, d)
	if err != nil {
		return nil, err
	}
	return unpack(c.Address, manifest, b)
}

// unpack reads a packed standard whose digest was checked.
func unpack(a Address, manifest, packed []byte) (*Standard, error) {
	fsys, err := standard.Unpack(bytes.NewReader(packed))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", a, err)
	}
	m, err := checked(fsys)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", a, err)
	}
	digest, err := standard.Digest(fsys)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", a, err)
	}
	return &Standard{FS: fsys, Packed: packed, Name: m.Name, Version: m.Version, Address: a.at(sum(manifest)), Manifest: sum(manifest), Digest: digest}, nil
}

// checked reads what a standard says of itself.
func checked(fsys fs.FS) (*judge.Manifest, error) {
	if _, err := fs.Stat(fsys, standard.ManifestFile); err != nil {
		return nil, fmt.Errorf("there is no %s, so this is no standard", standard.ManifestFile)
	}
	m, err := judge.ReadManifest(fsys)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", standard.ManifestFile, err)
	}
	if why := m.Check(); why != "" {
		return nil, fmt.Errorf("%s: %s", standard.ManifestFile, why)
	}
	return m, nil
}

// Push brings a standard to an address; where that has no tag, the version is the tag. A version that is there with another
// content is replaced only by force.
func (s *Store) Push(ctx context.Context, address string, fsys fs.FS, force bool) (*Standard, error) {
	ctx, stop := bound(ctx)
	defer stop()
	a, err := ParseAddress(address)
	if err != nil {
		return nil, err
	}
	m, err := checked(fsys)
	if err != nil {
		return nil, err
	}
	switch {
	case a.ref.Digest != "":
		return nil, fmt.Errorf("address %q: leave the digest out; it comes of pushing", address)
	case a.ref.Tag == "":
		a.ref.Tag = m.Version
	case versionTag.MatchString(a.ref.Tag) && a.ref.Tag != m.Version:
		return nil, fmt.Errorf("address %q: the standard is version %s; leave the tag out, or change the revision in %s", address, m.Version, standard.ManifestFile)
	}
	var packed bytes.Buffer
	if err := standard.Pack(&packed, fsys); err != nil {
		return nil, err
	}
	layer, config := packed.Bytes(), []byte("{}")
	manifest, err := describe(m, layer, config)
	if err != nil {
		return nil, err
	}
	st, err := unpack(a, manifest, layer)
	if err != nil {
		return nil, err
	}
	ctx = ociauth.ContextWithScope(ctx, ociauth.NewScope(
		ociauth.ResourceScope{ResourceType: ociauth.TypeRepository, Resource: a.ref.Repository, Action: ociauth.ActionPull},
		ociauth.ResourceScope{ResourceType: ociauth.TypeRepository, Resource: a.ref.Repository, Action: ociauth.ActionPush},
	))
	c, err := s.client(ctx, a)
	if err != nil {
		return nil, err
	}
	defer c.close()
	old, err := c.manifest(ctx)
	switch {
	case errors.Is(err, errNotFound):
	case err != nil && !force:
		return nil, err
	case err == nil && bytes.Equal(old, manifest):
		st.Stored = true
		return st, nil
	case err == nil && !force && versionTag.MatchString(a.ref.Tag):
		was, err := c.standard(ctx, old)
		if err != nil {
			return nil, fmt.Errorf("%s is there already and is not this standard (%w); give the standard a new version, or replace it with --force", a, err)
		}
		if was.Digest != st.Digest {
			return nil, fmt.Errorf("%s is there already with another content, %s; a version is a promise: write a new version as revision in %s, or replace the old one with --force", a, was.Digest, standard.ManifestFile)
		}
	}
	for _, b := range [][]byte{config, layer} {
		d := ociregistry.Descriptor{Digest: ociregistry.Digest(sum(b)), Size: int64(len(b))}
		if _, err := c.oci.ResolveBlob(ctx, a.ref.Repository, d.Digest); err == nil {
			continue
		}
		if _, err := c.oci.PushBlob(ctx, a.ref.Repository, d, bytes.NewReader(b)); err != nil {
			return nil, c.explain(ctx, err)
		}
	}
	if _, err := c.oci.PushManifest(ctx, a.ref.Repository, a.ref.Tag, manifest, manifestType); err != nil {
		return nil, c.explain(ctx, err)
	}
	now, err := c.manifest(ctx)
	if err != nil {
		return nil, fmt.Errorf("the standard was pushed and cannot be read back: %w", err)
	}
	if !bytes.Equal(now, manifest) {
		return nil, fmt.Errorf("%s holds another manifest, %s, after the push; someone else pushed it at the same time, or the registry changes what it is given", a, sum(now))
	}
	return st, nil
}

// describe writes the manifest: the guidelines for artifacts of the OCI Image Specification v1.1, with the layer
// that stock tools look for a bundle in.
func describe(m *judge.Manifest, layer, config []byte) ([]byte, error) {
	const title, version = "org.opencontainers.image.title", "org.opencontainers.image.version"
	out := ociregistry.Manifest{
		MediaType: manifestType, ArtifactType: artifactType,
		Config: ociregistry.Descriptor{MediaType: emptyType, Digest: ociregistry.Digest(sum(config)), Size: int64(len(config))},
		Layers: []ociregistry.Descriptor{{
			MediaType: layerType, Digest: ociregistry.Digest(sum(layer)), Size: int64(len(layer)),
			Annotations: map[string]string{title: m.Name + "-" + m.Version + ".tar.gz"},
		}},
		Annotations: map[string]string{title: m.Name, version: m.Version},
	}
	out.SchemaVersion = 2
	return json.Marshal(out)
}
