/**
 * What the tests of all modules share: the seed of everything random. Compiled into each module's
 * tests; {@code src/testing/resources} holds the settings of JUnit and jqwik for all of them.
 */
@NullMarked
package org.layroom.testing;

import org.jspecify.annotations.NullMarked;
