// Package finding knows what a check can say: findings of broken rules and problems of unusable input, each with rule,
// place, numbers and a way out, and their order. It does not know boards, files or terminals.
package finding
