package viewer

import (
	"encoding/json"
	"net/http"
	"sync"
	"time"

	"github.com/gorilla/websocket"
)

// Limits of one socket.
const (
	readLimit = 1 << 10 // bytes of one message from a page
	writeWait = 5 * time.Second
	pongWait  = 45 * time.Second
	pingEvery = 15 * time.Second
)

// hub knows every open page and tells them what changes.
type hub struct {
	mu      sync.Mutex
	sockets map[*socket]bool
	limit   int
	closed  bool
	last    map[string][]byte // the latest message of a kind, for a page that comes later
}

func newHub(limit int) *hub {
	return &hub{sockets: map[*socket]bool{}, limit: limit, last: map[string][]byte{}}
}

// socket is one open page. What it is to be told waits by kind, the newest of
// each: a page that is slow misses states in between, never the latest, and
// costs no more memory for being slow.
type socket struct {
	conn    *websocket.Conn
	mu      sync.Mutex
	waiting map[string][]byte
	order   []string // kinds in waiting, oldest first
	wake    chan struct{}
	gone    chan struct{}
}

// kinds that a newcomer is told at once.
var lasting = map[string]bool{"revision": true, "trouble": true}

// tell passes a message to every page but the one it came from, nil for none.
func (h *hub) tell(m message, except *socket) {
	text, err := json.Marshal(m)
	if err != nil {
		panic("viewer: " + err.Error()) // our own type
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	if lasting[m.Kind] {
		h.last[m.Kind] = text
	}
	for s := range h.sockets {
		if s != except {
			s.leave(m.Kind, text)
		}
	}
}

// join takes a socket in, unless there are too many.
func (h *hub) join(s *socket) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.closed || len(h.sockets) >= h.limit {
		return false
	}
	h.sockets[s] = true
	return true
}

// greet tells a newcomer how things stand.
func (h *hub) greet(s *socket) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for kind, text := range h.last {
		s.leave(kind, text)
	}
}

func (h *hub) part(s *socket) {
	h.mu.Lock()
	defer h.mu.Unlock()
	delete(h.sockets, s)
}

// close sends every page away.
func (h *hub) close() {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.closed = true
	for s := range h.sockets {
		if s.conn == nil {
			continue
		}
		bye := websocket.FormatCloseMessage(websocket.CloseGoingAway, "")
		s.conn.WriteControl(websocket.CloseMessage, bye, time.Now().Add(time.Second))
		s.conn.Close()
	}
}

// leave puts a message where the writer finds it, in place of an older one of
// its kind.
func (s *socket) leave(kind string, text []byte) {
	s.mu.Lock()
	if _, stale := s.waiting[kind]; !stale {
		s.order = append(s.order, kind)
	}
	s.waiting[kind] = text
	s.mu.Unlock()
	select {
	case s.wake <- struct{}{}:
	default:
	}
}

// next takes the oldest message that waits.
func (s *socket) next() []byte {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.order) == 0 {
		return nil
	}
	kind := s.order[0]
	s.order = s.order[1:]
	text := s.waiting[kind]
	delete(s.waiting, kind)
	return text
}

// socket opens a page's websocket and serves it until either side ends it.
func (s *Server) socket(w http.ResponseWriter, r *http.Request) {
	if !s.ownOrigin(r) {
		http.Error(w, "sockets are for this server's own page", http.StatusForbidden)
		return
	}
	so := &socket{waiting: map[string][]byte{}, wake: make(chan struct{}, 1), gone: make(chan struct{})}
	if !s.hub.join(so) {
		http.Error(w, "too many windows are open on this study", http.StatusServiceUnavailable)
		return
	}
	defer s.hub.part(so)
	up := websocket.Upgrader{CheckOrigin: s.ownOrigin, ReadBufferSize: readLimit, WriteBufferSize: readLimit}
	conn, err := up.Upgrade(w, r, nil)
	if err != nil {
		return // answered already
	}
	defer conn.Close()
	s.hub.mu.Lock()
	so.conn = conn
	closed := s.hub.closed
	s.hub.mu.Unlock()
	if closed {
		return
	}
	s.hub.greet(so)
	var writer sync.WaitGroup
	writer.Go(so.write)
	s.listen(so)
	close(so.gone)
	conn.Close()
	writer.Wait()
}

// write is the one goroutine that writes to a socket.
func (s *socket) write() {
	tick := time.NewTicker(pingEvery)
	defer tick.Stop()
	defer s.conn.Close() // ends listen
	for {
		select {
		case <-s.gone:
			return
		case <-tick.C:
			if s.conn.WriteControl(websocket.PingMessage, nil, time.Now().Add(writeWait)) != nil {
				return
			}
		case <-s.wake:
			for text := s.next(); text != nil; text = s.next() {
				s.conn.SetWriteDeadline(time.Now().Add(writeWait))
				if s.conn.WriteMessage(websocket.TextMessage, text) != nil {
					return
				}
			}
		}
	}
}

// listen takes in what a page says: where its playhead is, for the other
// windows. Anything else ends the socket.
func (s *Server) listen(so *socket) {
	so.conn.SetReadLimit(readLimit)
	alive := func(string) error { return so.conn.SetReadDeadline(time.Now().Add(pongWait)) }
	so.conn.SetPongHandler(alive)
	alive("")
	for {
		kind, text, err := so.conn.ReadMessage()
		var m message
		if err != nil || kind != websocket.TextMessage || json.Unmarshal(text, &m) != nil || m.Kind != "playhead" {
			return
		}
		alive("")
		s.hub.tell(message{Kind: m.Kind, AtMS: m.AtMS, Playing: m.Playing}, so)
	}
}
