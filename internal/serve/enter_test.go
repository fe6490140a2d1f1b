package serve

import (
	"io"
	"net"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/bay"
)

// Anybody on the network may ask to be let in, and whoever never says the rest holds no connection by it.
func TestNobodyHoldsTheDoorOpen(t *testing.T) {
	b, err := bay.Open(t.TempDir(), bay.Options{Workers: 1})
	require.NoError(t, err)
	defer b.Close()
	s := New(b, Options{Sessions: NewSessions(nil, func(string) {})})
	s.enterTime = 50 * time.Millisecond
	server := httptest.NewServer(s)
	defer server.Close()
	for name, said := range map[string]string{"nothing": "", "half": `{"code":`, "more to come": `{"code":"AAAA-AAAA"}`} {
		t.Run(name, func(t *testing.T) {
			connection, err := net.Dial("tcp", strings.TrimPrefix(server.URL, "http://"))
			require.NoError(t, err)
			defer connection.Close()
			_, err = io.WriteString(connection, "POST /api/enter HTTP/1.1\r\nHost: localhost\r\nContent-Length: 900\r\n\r\n"+said)
			require.NoError(t, err)
			require.NoError(t, connection.SetReadDeadline(time.Now().Add(5*time.Second)))
			answer, err := io.ReadAll(connection)
			require.NoError(t, err, "the connection ends")
			assert.Contains(t, string(answer), "HTTP/1.1 40")
		})
	}
}
