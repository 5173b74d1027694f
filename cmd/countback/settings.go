package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/adrg/xdg"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/spf13/viper"

	"countback/events"
	"countback/events/journal"
	"countback/events/stream"
	"countback/projections/engine"
)

// Settings are read from the flags, then from the environment, then from the
// settings file.
type settings struct {
	Store    string // folder
	Shop     events.Shop
	Terminal events.Terminal
	Guard    string // folder of the protected copy
	Mark     string // file of the high-water mark
	Plans    string // folder of the plans that the shop keeps
	Listen   string
	Server   string // addresses of a store that listens, in place of Store; commas between

	Passwords string // file of them: of terminals that may come, or of this one at a server
	Patient   bool   // wait for the server, however long it is away

	Limits *engine.Limits // the shop's own; nil: the usual ones

	terminals map[events.Terminal]string // that may come, with their passwords
	JSON      bool
	Printers  []printerSetting
	Fonts     []string // TrueType files for characters that the built-in fonts lack
	Queue     string   // folder of the print queue; empty: see queueDir
	File      string   // the settings file that was read; empty: none
}

// settingKeys are the keys of the settings file, and of the environment in
// upper case after COUNTBACK_.
var settingKeys = []string{"store", "shop", "terminal", "guard", "mark", "plans", "listen", "server", "json", "printers", "queue", "fonts", "passwords", "limits", "pause", "money", "units"}

// addSettings declares the flags that every command has.
func addSettings(flags *pflag.FlagSet) {
	flags.String("store", "", "folder of the store (default "+defaultStore()+")")
	flags.String("shop", "workshop", "name of the shop, a word of letters, digits, - and _")
	flags.String("terminal", "office", "name of this terminal in the shop")
	flags.String("guard", "", "folder of the protected copy, best on another disk (default: the store's name and .guard)")
	flags.String("mark", "", "file of the high-water mark (default: the store's name and .mark)")
	flags.String("plans", "", "folder of the shop's plan files (default "+defaultPlans()+")")
	flags.String("server", "", "a store that listens, e.g. nats://127.0.0.1:4222, in place of a folder; several nodes with commas between")
	flags.String("passwords", "", "file of passwords: of the terminals that may come, or of this one at a server")
	flags.String("pause", "", "longest pause inside a stage by angle where the plan gives none, e.g. 45m; 0: none is too long (default 30m)")
	flags.String("units", "", "units of the shop where the plan has none, e.g. \"lbf.ft in\" (default \"N.m mm\")")
	flags.Bool("json", false, "write JSON for programs")
	flags.String("config", "", "settings file in YAML (default "+defaultFile()+")")
}

// addListen declares the flag of the commands that keep the store open.
func addListen(flags *pflag.FlagSet) {
	flags.String("listen", "", "let others read the store meanwhile, e.g. at 127.0.0.1:4222, and terminals of --passwords work on it")
}

func defaultStore() string { return filepath.Join(xdg.DataHome, "countback", "store") }

func defaultPlans() string { return filepath.Join(xdg.DataHome, "countback", "plans") }

func defaultFile() string { return filepath.Join(xdg.ConfigHome, "countback", "settings.yaml") }

// readSettings finds the settings of a command.
func readSettings(cmd *cobra.Command) (settings, error) {
	v := viper.New()
	v.SetEnvPrefix("countback")
	v.AutomaticEnv()
	file, err := readFile(v, cmd)
	if err != nil {
		return settings{}, err
	}
	for _, key := range settingKeys {
		if flag := cmd.Flags().Lookup(key); flag != nil {
			if err := v.BindPFlag(key, flag); err != nil {
				return settings{}, err
			}
		}
	}
	s := settings{
		Store: v.GetString("store"), Guard: v.GetString("guard"), Mark: v.GetString("mark"),
		Shop: events.Shop(v.GetString("shop")), Terminal: events.Terminal(v.GetString("terminal")),
		Plans: v.GetString("plans"), Server: v.GetString("server"), File: file,
		Passwords: v.GetString("passwords"), Queue: v.GetString("queue"), Fonts: v.GetStringSlice("fonts"),
	}
	if s.Limits, err = readLimits(v, file); err != nil {
		return settings{}, err
	}
	if s.Limits, err = readPause(v, s.Limits); err != nil {
		return settings{}, err
	}
	if s.Limits, err = readMoney(v, file, s.Limits); err != nil {
		return settings{}, err
	}
	if s.Limits, err = readShopUnits(v, file, s.Limits); err != nil {
		return settings{}, err
	}
	if s.Printers, err = readPrinters(v, file); err != nil {
		return settings{}, err
	}
	if cmd.Flags().Lookup("listen") != nil {
		s.Listen = v.GetString("listen")
	}
	if s.Listen != "" && s.Server == "" {
		list, err := readPasswords(s.Passwords)
		if err != nil {
			return settings{}, err
		}
		s.terminals = list.terminals()
	}
	if s.JSON, err = boolean(v, "json"); err != nil {
		return settings{}, err
	}
	if s.Store == "" {
		s.Store = defaultStore()
	}
	if s.Plans == "" {
		s.Plans = defaultPlans()
	}
	return s, s.check()
}

// boolean reads a setting that is on or off; viper would take any other word
// for off.
func boolean(v *viper.Viper, key string) (bool, error) {
	switch text := strings.ToLower(v.GetString(key)); text {
	case "true", "1", "yes", "on":
		return true, nil
	case "false", "0", "no", "off", "":
		return false, nil
	default:
		return false, usage("setting %s: %q is neither true nor false", key, text)
	}
}

// readFile reads the settings file: the one named, or the one in the
// platform's place if there is one.
func readFile(v *viper.Viper, cmd *cobra.Command) (string, error) {
	path, named := os.Getenv("COUNTBACK_CONFIG"), false
	if flag := cmd.Flags().Lookup("config"); flag != nil && flag.Changed {
		path = flag.Value.String()
	}
	if named = path != ""; !named {
		path = defaultFile()
	}
	if _, err := os.Stat(path); err != nil {
		if !named && errors.Is(err, fs.ErrNotExist) {
			return "", nil
		}
		return "", usage("settings file: %w", err)
	}
	v.SetConfigFile(path)
	v.SetConfigType("yaml")
	if err := v.ReadInConfig(); err != nil {
		return "", usage("settings file %s: %w", path, err)
	}
	for _, key := range v.AllKeys() {
		top, _, _ := strings.Cut(key, ".") // limits has keys of its own
		if (v.InConfig(key) || v.InConfig(top)) && !contains(settingKeys, top) {
			return "", usage("settings file %s: there is no setting %q; there are: %s", path, key, strings.Join(settingKeys, ", "))
		}
	}
	return path, nil
}

func contains(list []string, s string) bool {
	for _, e := range list {
		if e == s {
			return true
		}
	}
	return false
}

func (s settings) check() error {
	if err := wordOf("shop", string(s.Shop)); err != nil {
		return err
	}
	return wordOf("terminal", string(s.Terminal))
}

// wordOf refuses a name that cannot stand in a subject.
func wordOf(what, name string) error {
	if err := journal.CheckName(what, name); err != nil {
		return usage("%w", err)
	}
	return nil
}

// remote is how to reach the server that the settings name.
func (s settings) remote() stream.Remote {
	return stream.Remote{URLs: strings.Split(s.Server, ","), Shop: s.Shop, Terminal: s.Terminal}
}

// stream is how the store's own package wants to hear it.
func (s settings) stream() stream.Config {
	return stream.Config{
		Terminals: s.terminals,
		Shop:      s.Shop, Dir: s.Store, Terminal: s.Terminal,
		GuardDir: s.Guard, HighWaterPath: s.Mark, Listen: s.Listen,
	}
}

// settingsTopic is "countback help settings".
func settingsTopic() *cobra.Command {
	return &cobra.Command{
		Use:   "settings",
		Short: "Where settings come from",
		Long: fmt.Sprintf(`A setting is taken from the first of these that has it:

  1. its flag            --store /srv/countback
  2. the environment     COUNTBACK_STORE=/srv/countback
  3. the settings file   store: /srv/countback

The settings file is YAML: %s,
or the one named by --config or COUNTBACK_CONFIG. Its keys are
%s.`, defaultFile(), strings.Join(settingKeys, ", ")),
		Example: `  # settings.yaml of a bench terminal, with the protected copy on another disk
  store: /srv/countback/store
  guard: /mnt/second-disk/countback.guard
  shop: elm-street
  terminal: bench-1
  # The shop's own limits: who is alone may pass a gate by counting afresh after
  # alone-gap; a count older than count-age is asked for again; work on one broken
  # fastener stops after so many failed methods, or minutes. 0: never.
  # output-units: of power and torque that are told without one.
  limits: {alone-gap: 4h, count-age: 14d, failed-methods: 2, minutes: 60, output-units: hp lbf.ft}
  # A stage by angle that is gone on with after a longer pause is begun anew, where
  # the plan gives no pause of its own.
  pause: 45m
  # The units of torques and lengths, where the plan has none: at the bench, and how
  # far a bolt enters.
  units: {torque: lbf.ft, length: in}
  # What the shop reckons in, and what an hour of work costs.
  money: {currency: EUR, hour: 85.00}`,
	}
}
