// Package yamlform reads YAML written by hand into forms, strictly, and says what is wrong with it in plain words.
package yamlform
