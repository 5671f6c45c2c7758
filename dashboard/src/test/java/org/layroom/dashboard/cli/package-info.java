/** The command line as a person types it. */
@NullMarked
package org.layroom.dashboard.cli;

import org.jspecify.annotations.NullMarked;
