holdfast_room(campaign RANK 2 USES base load SOURCES
  campaign.c)
