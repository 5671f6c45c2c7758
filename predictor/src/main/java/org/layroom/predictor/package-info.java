/** What is known: pure computation, no I/O, no clock, no threads, no logging. */
@NullMarked
package org.layroom.predictor;

import org.jspecify.annotations.NullMarked;
