package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"

	"github.com/spf13/cobra"

	"tautline/viewer"
)

func viewCommand() *cobra.Command {
	var addr, webDir string
	var noOpen bool
	c := &cobra.Command{
		Use:   "view STUDY",
		Short: "Open the study as a page on this machine",
		Long: `Serves one page on this machine's own address and opens it. The address carries a
secret; nobody else can use it. Ends with Ctrl-C.`,
		Args: args("STUDY", ""),
	}
	asJSON := jsonFlag(c)
	c.Flags().StringVar(&addr, "addr", "", "address to listen on (default: any free port of 127.0.0.1)")
	c.Flags().BoolVar(&noOpen, "no-open", false, "print the address and do not open a browser")
	c.Flags().StringVar(&webDir, "web", "", "serve the page's files from this folder, for work on the page")
	c.RunE = func(c *cobra.Command, a []string) error {
		return view(c.Context(), c.OutOrStdout(), a[0], addr, webDir, !noOpen, *asJSON)
	}
	return c
}

// view serves a study until ctx ends, once it has printed where.
func view(ctx context.Context, out io.Writer, path, addr, webDir string, open, asJSON bool) error {
	s, err := openStudy(ctx, path)
	if err != nil {
		return err
	}
	defer s.Close()
	srv, err := viewer.New(viewer.Options{Store: s, ToolVersion: version, WebDir: webDir, SecretDir: secretDir()})
	if err != nil {
		return err
	}
	if err := srv.Listen(addr); err != nil {
		return withHint(err, "tautline view %s", file(path))
	}
	if asJSON {
		if err := printJSON(out, map[string]string{"url": srv.URL()}); err != nil {
			return err
		}
	} else {
		fmt.Fprintf(out, "%s\nCtrl-C ends it.\n", srv.URL())
	}
	if open {
		openBrowser(srv.URL())
	}
	return srv.Serve(ctx)
}

// secretDir is where the page's secret is kept between starts; empty where this
// user has no folder for such things.
func secretDir() string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "tautline", "pages")
}

// openBrowser asks the desktop to show an address. Where there is no desktop
// nothing happens: the address has been printed.
func openBrowser(url string) {
	name, args := "xdg-open", []string{url}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", url}
	}
	if path, err := exec.LookPath(name); err == nil {
		cmd := exec.Command(path, args...)
		if cmd.Start() == nil {
			go func() { _ = cmd.Wait() }()
		}
	}
}
