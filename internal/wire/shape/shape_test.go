package shape

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"halfline/internal/field"
)

type inner struct {
	N int `json:"n"`
}

type sample struct {
	Text   string            `json:"text"`
	Word   *string           `json:"word,omitempty" enum:"a,b,"`
	Maybe  *float64          `json:"maybe"`
	Place  [2]field.Inches   `json:"place"`
	Inner  *inner            `json:"inner,omitempty"`
	Gone   map[string]*inner `json:"gone,omitempty"`
	Signs  map[string]string `json:"signs" enum:"yes,no"`
	Client string            `json:"client" hex:"16"`
	Seq    uint64            `json:"seq"`
	On     bool              `json:"on,omitempty"`
	Many   []inner           `json:"many"`
}

func TestShapeOfEachKindOfField(t *testing.T) {
	s := Of(reflect.TypeFor[sample]())
	assert.Equal(t, Object, s.Kind)
	assert.Equal(t, "shape", s.Package)
	assert.Equal(t, "sample", s.Name)
	get := func(key string) Field {
		f, ok := s.Field(key)
		require.True(t, ok, key)
		return *f
	}
	assert.False(t, get("text").Optional)
	assert.Equal(t, []string{"a", "b", ""}, get("word").Enum)
	assert.True(t, get("word").Optional)
	assert.False(t, get("word").Null, "what may be absent is never null")
	assert.True(t, get("maybe").Null)
	assert.False(t, get("maybe").Optional)

	place := get("place").Shape
	assert.Equal(t, Tuple, place.Kind)
	assert.Equal(t, 2, place.Len)
	assert.Equal(t, int64(-4320), place.Elem.Min)
	assert.Equal(t, int64(4320), place.Elem.Max)

	assert.Same(t, Of(reflect.TypeFor[inner]()), get("inner").Shape, "one shape for one type")
	assert.True(t, get("gone").Shape.ElemNull)
	assert.False(t, get("signs").Shape.ElemNull)
	assert.Equal(t, 16, get("client").Hex)
	assert.Equal(t, int64(0), get("seq").Shape.Min)
	assert.Equal(t, int64(9007199254740991), get("seq").Shape.Max) // ECMA-262, Number.MAX_SAFE_INTEGER
	assert.Equal(t, List, get("many").Shape.Kind)
	_, ok := s.Field("Text")
	assert.False(t, ok, "keys are case-sensitive")
}

func TestWhatCannotTravelIsNoticed(t *testing.T) {
	for name, typ := range map[string]reflect.Type{
		"no json key": reflect.TypeFor[struct{ A int }](),
		"left out": reflect.TypeFor[struct {
			A int `json:"-"`
		}](),
		"number as key": reflect.TypeFor[map[int]string](),
		"channel": reflect.TypeFor[struct {
			A chan int `json:"a"`
		}](),
		"any": reflect.TypeFor[struct {
			A any `json:"a"`
		}](),
		"32 bits": reflect.TypeFor[struct {
			A int32 `json:"a"`
		}](),
		"enum of numbers": reflect.TypeFor[struct {
			A int `json:"a" enum:"1,2"`
		}](),
		"hex of numbers": reflect.TypeFor[struct {
			A int `json:"a" hex:"16"`
		}](),
		"hex of no count": reflect.TypeFor[struct {
			A string `json:"a" hex:"many"`
		}](),
		"enum of many places": reflect.TypeFor[struct {
			A []inner `json:"a" enum:"x"`
		}](),
	} {
		t.Run(name, func(t *testing.T) {
			assert.Panics(t, func() { Of(typ) })
			assert.Panics(t, func() { Of(typ) }, "the second time as well")
		})
	}
}
