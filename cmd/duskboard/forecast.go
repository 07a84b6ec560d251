package main

import (
	"flag"
	"fmt"
	"time"

	"duskboard/internal/weather"
	"duskboard/internal/weather/feed"
)

// forecastServices are the names that --forecast takes.
const forecastServices = "open-meteo, met-norway or off"

// forecastTimeout bounds one attempt of a forecast, so that two fit into the
// time that a request has.
const forecastTimeout = 3500 * time.Millisecond

// forecastChoice is which service a page may ask for weather, and an address at
// which that service reaches whoever runs the server; some ask for one.
type forecastChoice struct{ service, contact string }

// forecastFlags adds the flags of the choice.
func forecastFlags(f *flag.FlagSet, env func(string) string) *forecastChoice {
	c := &forecastChoice{service: env("DUSKBOARD_FORECAST"), contact: env("DUSKBOARD_FORECAST_CONTACT")}
	if c.service == "" {
		c.service = "open-meteo"
	}
	f.StringVar(&c.service, "forecast", c.service, "service asked for weather when somebody presses the button: "+forecastServices+" (DUSKBOARD_FORECAST)")
	f.StringVar(&c.contact, "forecast-contact", c.contact, "address at which that service can reach you (DUSKBOARD_FORECAST_CONTACT)")
	return c
}

// provider is the service; nil for "off", and in the demo, which must work
// without a network.
func (c forecastChoice) provider(demo bool) (weather.Provider, error) {
	agent := "Duskboard/" + version()
	if c.contact != "" {
		agent += " (" + c.contact + ")"
	}
	client := &feed.Client{UserAgent: agent, Timeout: forecastTimeout, Attempts: 2}
	switch {
	case demo || c.service == "off":
		return nil, nil
	case c.service == "open-meteo":
		return &feed.OpenMeteo{Client: client}, nil
	case c.service == "met-norway" && c.contact == "":
		return nil, fmt.Errorf("%w: met-norway asks for an address to reach you at: set --forecast-contact", errUsage)
	case c.service == "met-norway":
		return &feed.MetNorway{Client: client}, nil
	}
	return nil, fmt.Errorf("%w: --forecast is %s, not %q", errUsage, forecastServices, c.service)
}
