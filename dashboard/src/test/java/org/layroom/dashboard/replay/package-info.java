/** Tests of what a recording raises. Who may call in: the test runner. */
@NullMarked
package org.layroom.dashboard.replay;

import org.jspecify.annotations.NullMarked;
