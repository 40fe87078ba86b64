holdfast_test(campaign_broken SOURCES campaign/test_broken.c campaign/folder.c)
