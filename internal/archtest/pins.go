//go:build pins

package archtest

import (
	_ "github.com/chromedp/chromedp"
	_ "github.com/evanw/esbuild/pkg/api"
	_ "github.com/getkin/kin-openapi/openapi3"
	_ "github.com/go-json-experiment/json"
	_ "github.com/google/uuid"
	_ "github.com/gorilla/websocket"
	_ "github.com/redis/go-redis/v9"
	_ "github.com/santhosh-tekuri/jsonschema/v6"
	_ "github.com/stretchr/testify/assert"
	_ "go.etcd.io/bbolt"
	_ "go.uber.org/goleak"
	_ "go.yaml.in/yaml/v4"
	_ "golang.org/x/time/rate"
	_ "gonum.org/v1/gonum/optimize"
	_ "pgregory.net/rapid"
	_ "rsc.io/qr"
)
