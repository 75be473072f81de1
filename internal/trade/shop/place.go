package shop

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"longgrain/internal/ground/problem"
	"longgrain/internal/ground/unit"
	"longgrain/internal/trade/hardware"
)

func (r *reader) climates() (workshop, use Climate) {
	var f ClimateFile
	if r.file.Climate != nil {
		f = *r.file.Climate
	}
	return r.climate("climate.shop", f.Shop), r.climate("climate.use", f.Use)
}

// climate reads the air of a place. A place that is left out, or that is wrong, has the default pair.
func (r *reader) climate(path string, f *PlaceFile) Climate {
	if f == nil {
		return Climate{[]Weather{
			r.defaultWeather(path+".winter", "winter"),
			r.defaultWeather(path+".summer", "summer"),
		}}
	}
	weather := func(name string, w WeatherFile) Weather {
		return Weather{name, unit.Percent(w.Humidity), unit.Celsius(w.Temperature)}
	}
	if r.given(path + ".months") {
		return r.months(path, f, weather)
	}
	if f.Winter == nil || f.Summer == nil {
		r.report(problem.MissingKey, path, "does not give both ends of the year", "", "add winter and summer, or twelve months")
		return Climate{}
	}
	return Climate{[]Weather{weather("winter", *f.Winter), weather("summer", *f.Summer)}}
}

func (r *reader) months(path string, f *PlaceFile, weather func(string, WeatherFile) Weather) Climate {
	if f.Winter != nil || f.Summer != nil {
		r.report(problem.UnknownKey, path, "gives both months and seasons", "", "take one of them out")
	}
	if len(f.Months) != 12 {
		r.report(problem.WrongKind, path+".months", fmt.Sprintf("has %d months", len(f.Months)), "12 months", "start with January")
		return Climate{}
	}
	var c Climate
	for i, w := range f.Months {
		c.Weather = append(c.Weather, weather(time.Month(i+1).String(), w))
	}
	return c
}

func (r *reader) defaultWeather(path, name string) Weather {
	text := r.fallBack(path)
	var humidity, temperature float64
	if _, err := fmt.Sscanf(text, "%g %% at %g", &humidity, &temperature); err != nil {
		panic("shop: defaults.csv: " + path + ": " + err.Error())
	}
	return Weather{name, unit.Percent(humidity), unit.Celsius(temperature)}
}

func (r *reader) tools() []hardware.Tool {
	names := r.file.Tools
	if !r.given("tools") {
		names = list(r.fallBack("tools"))
	}
	out := []hardware.Tool{}
	for i, name := range names {
		path := fmt.Sprintf("tools[%d]", i)
		tool, ok := hardware.FindTool(name)
		if !ok {
			r.unknown(path, "tool", name, hardware.ToolNames())
			continue
		}
		if slices.ContainsFunc(out, func(t hardware.Tool) bool { return t.ID == tool.ID }) {
			r.report(problem.DuplicateName, path, fmt.Sprintf("the %s stands twice", tool.Name), "", "take one of them out")
			continue
		}
		out = append(out, tool)
	}
	return out
}

func (r *reader) clamps() []Clamps {
	out := []Clamps{}
	for i, f := range r.file.Clamps {
		kind, ok := hardware.FindClamp(f.Kind)
		if !ok {
			r.unknown(fmt.Sprintf("clamps[%d].kind", i), "kind of clamp", f.Kind, hardware.ClampNames())
		}
		c := Clamps{Kind: kind, Opening: f.Opening.Length, Reach: f.Reach.Length, Force: unit.Newtons(f.Force), Count: f.Count}
		if c.Force == 0 {
			c.Force = kind.Force
		}
		if !r.given(fmt.Sprintf("clamps[%d].reach", i)) {
			c.Reach = kind.ReachLow
		}
		out = append(out, c)
	}
	return out
}

func (r *reader) people() []People {
	if !r.given("people") {
		n, err := strconv.Atoi(r.fallBack("people"))
		if err != nil {
			panic("shop: defaults.csv: people: " + err.Error())
		}
		return []People{{Name: "maker", Number: n}}
	}
	out := []People{}
	for i, f := range r.file.People {
		p := People{Name: f.Name, Number: f.Number}
		for j, name := range f.Barred {
			if tool, ok := hardware.FindTool(name); ok {
				p.Barred = append(p.Barred, tool.ID)
			} else {
				r.unknown(fmt.Sprintf("people[%d].barred[%d]", i, j), "tool", name, hardware.ToolNames())
			}
		}
		out = append(out, p)
	}
	return out
}

var weekdays = []string{"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"}

// defaultHours are the windows that the default text of "hours" describes.
var defaultHours = []HoursFile{
	{[]string{"tuesday", "thursday"}, "18:30", "21:00"},
	{[]string{"saturday"}, "9:00", "13:00"},
}

func (r *reader) calendar() Calendar {
	hours := r.file.Hours
	if !r.given("hours") {
		r.fallBack("hours")
		hours = defaultHours
	}
	c := Calendar{Windows: []Window{}}
	for i, h := range hours {
		path := fmt.Sprintf("hours[%d]", i)
		from, okFrom := r.clock(path+".from", h.From)
		to, okTo := r.clock(path+".to", h.To)
		if okFrom && okTo && from >= to {
			r.report(problem.OutOfRange, path, fmt.Sprintf("ends at %s, before it begins at %s", h.To, h.From), "", "write from before to; a night is two windows")
			continue
		}
		for j, day := range h.Days {
			k := slices.Index(weekdays, day)
			if k < 0 || !okFrom || !okTo {
				continue // reported where it was read
			}
			w := Window{time.Weekday((k + 1) % 7), from, to}
			if clash := slices.IndexFunc(c.Windows, w.overlaps); clash >= 0 {
				r.report(problem.DuplicateName, fmt.Sprintf("%s.days[%d]", path, j), fmt.Sprintf("two windows overlap on %s", day), "", "join them or move one")
				continue
			}
			c.Windows = append(c.Windows, w)
		}
	}
	slices.SortFunc(c.Windows, func(a, b Window) int {
		return (fromMonday(a.Day)-fromMonday(b.Day))*24*60 + int(a.From-b.From)
	})
	for i, text := range r.file.Holidays {
		if day, ok := r.date(fmt.Sprintf("holidays[%d]", i), text); ok {
			c.Holidays = append(c.Holidays, day)
		}
	}
	slices.SortFunc(c.Holidays, time.Time.Compare)
	if r.given("starts") {
		c.Starts, _ = r.date("starts", r.file.Starts)
	}
	return c
}

func fromMonday(d time.Weekday) int { return (int(d) + 6) % 7 }

func (w Window) overlaps(other Window) bool {
	return w.Day == other.Day && w.From < other.To && other.From < w.To
}

// clock reads a time of day such as 18:30; 24:00 is the end of the day.
func (r *reader) clock(path, text string) (Clock, bool) {
	if text == "" {
		return 0, false // reported where it was read
	}
	hour, minute, ok := strings.Cut(text, ":")
	h, err1 := strconv.Atoi(hour)
	m, err2 := strconv.Atoi(minute)
	if !ok || err1 != nil || err2 != nil || len(minute) != 2 || h < 0 || m < 0 || m > 59 || h*60+m > 24*60 {
		r.report(problem.WrongKind, path, fmt.Sprintf("%q is not a time of day", text), "hours and minutes", "write for example 18:30")
		return 0, false
	}
	return Clock(h*60 + m), true
}

// String prints the time as in the file.
func (c Clock) String() string { return fmt.Sprintf("%d:%02d", c/60, c%60) }

func (r *reader) date(path, text string) (time.Time, bool) {
	if text == "" {
		return time.Time{}, false // reported where it was read
	}
	day, err := time.Parse(time.DateOnly, text)
	if err != nil {
		r.report(problem.WrongKind, path, fmt.Sprintf("%q is not a date", text), "year, month and day", "write for example 2026-10-06")
		return time.Time{}, false
	}
	return day, true
}
