package report

import (
	"encoding/xml"
	"fmt"
	"io"
	"strings"

	"ohmstead/lint"
)

// The JUnit form, after the schema of the Apache Maven Surefire test report:
// one suite, one test case for each finding, told or hidden, and one for each plan
// in which nothing failed.
type (
	junitSuite struct {
		XMLName  xml.Name    `xml:"testsuite"`
		Name     string      `xml:"name,attr"`
		Time     string      `xml:"time,attr"`
		Tests    int         `xml:"tests,attr"`
		Errors   int         `xml:"errors,attr"`
		Skipped  int         `xml:"skipped,attr"`
		Failures int         `xml:"failures,attr"`
		Cases    []junitCase `xml:"testcase"`
	}
	junitCase struct {
		Name    string        `xml:"name,attr"`
		Class   string        `xml:"classname,attr"`
		Time    string        `xml:"time,attr"`
		Failure *junitFailure `xml:"failure,omitempty"`
		Skipped *junitSkipped `xml:"skipped,omitempty"`
		Out     string        `xml:"system-out,omitempty"`
	}
	junitSkipped struct {
		Message string `xml:"message,attr"`
	}
	junitFailure struct {
		Message string `xml:"message,attr"`
		Type    string `xml:"type,attr"`
		Text    string `xml:",chardata"`
	}
)

// JUnit writes a test report. Findings below the run's FailOn are passed test
// cases that say what was found in their output.
func JUnit(w io.Writer, r *Run) error {
	suite := junitSuite{Name: "ohmstead", Time: "0", Failures: r.Failures()}
	for _, p := range r.Plans {
		failed := false
		for _, f := range p.Findings {
			text := fmt.Sprintf("%s: %s: %s [%s]", Style{}.where(f.Place, f.Plan), f.Level, f.Message, f.Rule)
			c := junitCase{Name: strings.TrimSpace(f.Rule + " " + f.Subject), Class: p.Dir, Time: "0"}
			if r.fails(f) {
				failed = true
				c.Failure = &junitFailure{Message: f.Message, Type: f.Level.String(), Text: text}
			} else {
				c.Out = text
			}
			suite.Cases = append(suite.Cases, c)
		}
		for _, h := range p.Hidden {
			text := fmt.Sprintf("%s: %s [%s] is %s", Style{}.where(h.Place, h.Plan), h.Message, h.Rule, h.how())
			c := junitCase{Name: strings.TrimSpace(h.Rule + " " + h.Subject), Class: p.Dir, Time: "0"}
			if r.alarms(h) {
				failed = true
				c.Failure = &junitFailure{Message: "newly " + h.how() + ": " + h.Message, Type: h.Level.String(), Text: text}
			} else {
				c.Skipped = &junitSkipped{h.how()}
				c.Out = text
				suite.Skipped++
			}
			suite.Cases = append(suite.Cases, c)
		}
		if !failed {
			what := "no findings that fail"
			if r.FailOn == lint.Error {
				what = "no errors"
			}
			suite.Cases = append(suite.Cases, junitCase{Name: what, Class: p.Dir, Time: "0"})
		}
	}
	suite.Tests = len(suite.Cases)
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	e := xml.NewEncoder(w)
	e.Indent("", "  ")
	if err := e.Encode(suite); err != nil {
		return err
	}
	_, err := io.WriteString(w, "\n")
	return err
}
