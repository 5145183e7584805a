package fitting

import "container/heap"

// node is a piece or a job of work, by its place in the list of pieces.
type node = int

// arrow says that one node must come before another, and why.
type arrow struct {
	to  node
	why string
}

// graph is what must come before what.
type graph struct {
	out  [][]arrow
	into []int // how many arrows end at each node
	have map[[2]node]bool
}

func newGraph(n int) *graph {
	return &graph{out: make([][]arrow, n), into: make([]int, n), have: map[[2]node]bool{}}
}

// before adds an arrow from a to b, unless there is one.
func (g *graph) before(a, b node, why string) {
	if g.have[[2]node{a, b}] {
		return
	}
	g.have[[2]node{a, b}] = true
	g.out[a] = append(g.out[a], arrow{b, why})
	g.into[b]++
}

// order returns the nodes so that every arrow leads on, always taking the free
// node of least rank, and false when some are in cycles; those are left out.
func (g *graph) order(rank []float64) ([]node, bool) {
	left := append([]int(nil), g.into...)
	free := &ready{rank: rank}
	for i, n := range left {
		if n == 0 {
			free.nodes = append(free.nodes, i)
		}
	}
	heap.Init(free)
	var out []node
	for free.Len() > 0 {
		i := heap.Pop(free).(node)
		out = append(out, i)
		for _, x := range g.out[i] {
			if left[x.to]--; left[x.to] == 0 {
				heap.Push(free, x.to)
			}
		}
	}
	return out, len(out) == len(left)
}

// cycle returns a shortest cycle, its first node once, or nil. Of several it is
// the one through the lowest node.
func (g *graph) cycle() []node {
	var best []node
	n := len(g.out)
	from := make([]node, n)
	// Only nodes that order cannot reach lie on or behind a cycle.
	placed, _ := g.order(make([]float64, n))
	done := make([]bool, n)
	for _, i := range placed {
		done[i] = true
	}
	for s := range n {
		if done[s] {
			continue
		}
		for i := range from {
			from[i] = -1
		}
		queue := []node{s}
	search:
		for len(queue) > 0 {
			i := queue[0]
			queue = queue[1:]
			for _, x := range g.out[i] {
				if x.to == s {
					var c []node
					for k := i; k != s; k = from[k] {
						c = append([]node{k}, c...)
					}
					c = append([]node{s}, c...)
					if best == nil || len(c) < len(best) {
						best = c
					}
					break search
				}
				if from[x.to] < 0 && x.to != s {
					from[x.to] = i
					queue = append(queue, x.to)
				}
			}
		}
		if len(best) == 2 {
			return best
		}
	}
	return best
}

func (g *graph) why(a, b node) string {
	for _, x := range g.out[a] {
		if x.to == b {
			return x.why
		}
	}
	return ""
}

// ready is a heap of free nodes, the least rank first and of equals the lower.
type ready struct {
	nodes []node
	rank  []float64
}

func (r *ready) Len() int { return len(r.nodes) }
func (r *ready) Less(i, k int) bool {
	a, b := r.nodes[i], r.nodes[k]
	if r.rank[a] != r.rank[b] {
		return r.rank[a] < r.rank[b]
	}
	return a < b
}
func (r *ready) Swap(i, k int) { r.nodes[i], r.nodes[k] = r.nodes[k], r.nodes[i] }
func (r *ready) Push(x any)    { r.nodes = append(r.nodes, x.(node)) }
func (r *ready) Pop() any {
	x := r.nodes[len(r.nodes)-1]
	r.nodes = r.nodes[:len(r.nodes)-1]
	return x
}
