package lint_test

import (
	"testing"
	"testing/fstest"
)

func tradeTree(t *testing.T) fstest.MapFS { return inValley(3) }
