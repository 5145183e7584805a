// Package zones draws what motion sensors see: a band of steps by sensors, and
// the sensors themselves over a plan or a section; and it says where they can be
// taken hold of and which edit a drag makes.
//
// # The band
//
// Up the flight is to the right, a column to each position from the bottom floor
// to the top floor, a row to each sensor from the bottom up. In the scene a
// column is Column wide and a row Row high; X = 0 is the first nose line.
//
//   - filled bar: the steps of which a sensor is sure;
//   - thin dashed outline: where it may already see somebody;
//   - hatched, with the number of sensors: steps that more than one is sure of;
//   - cross-hatched over all rows, with the word "blind": steps that none is;
//   - last row: which sensors are on together, the states that can be told apart.
//
// # Over plan and section
//
//   - disc with the sensor's number: its lens; a short arrow: where it looks;
//   - hatched fan: from the lens to what it is sure of on the walking line.
//   - in a plan, dashed with arrows: the way of somebody who passes; a door with
//     its swing; cross-hatched box: what warms.
//
// No meaning rests on colour alone.
package zones
