// Package audit is the pre-season audit of a group: what it shows of each household, who is ready, and what to do first.
package audit
