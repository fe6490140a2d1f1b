// Settings of OpenCV that hold for the whole process.
#pragma once

#ifdef __cplusplus
extern "C" {
#endif

char *setup_opencv(void);
int opencv_threads(void);

#ifdef __cplusplus
}
#endif
