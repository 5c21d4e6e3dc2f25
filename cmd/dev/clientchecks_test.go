package main

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const clientHead = "import assert from 'node:assert/strict';\nimport { test } from 'node:test';\n"

func TestClientTestsAreCounted(t *testing.T) {
	s := module(t, map[string]string{
		"client/test/a.test.ts": clientHead + "test('one', () => { const n: number = 1; assert.equal(n, 1); });\n",
		"client/test/b.test.ts": clientHead + "test('two', () => {});\ntest('three', () => {});\n",
	})
	var total tally
	require.NoError(t, s.testClient(context.Background(), &total))
	assert.Equal(t, tally{passed: 3}, total)
}

func TestClientFailureNamesItsLine(t *testing.T) {
	s := module(t, map[string]string{
		"client/test/a.test.ts": clientHead + "test('one', () => {});\ntype Unused = string;\ntest('two', () => {\n\tassert.equal(1, 2);\n});\n",
	})
	var total tally
	err := s.testClient(context.Background(), &total)
	assert.Equal(t, exitNo, exitCode(err))
	assert.Equal(t, tally{passed: 1, failed: 1}, total)
	assert.Contains(t, s.printed(), "a.test.ts:6:")
}

func TestClientWithoutTestsIsRefused(t *testing.T) {
	s := module(t, map[string]string{"client/package.json": "{}"})
	var total tally
	assert.ErrorContains(t, s.testClient(context.Background(), &total), "holds no *.test.ts")
}

func TestClientTestThatDoesNotBundleIsNamed(t *testing.T) {
	s := module(t, map[string]string{"client/test/a.test.ts": "\nlet = ;\n"})
	var total tally
	assert.ErrorContains(t, s.testClient(context.Background(), &total), "client/test/a.test.ts:2:")
}
