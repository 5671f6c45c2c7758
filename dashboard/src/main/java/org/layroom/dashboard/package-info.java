/** What people see and what is kept: broker, store, jobs, warnings, page and command line. */
@NullMarked
package org.layroom.dashboard;

import org.jspecify.annotations.NullMarked;
